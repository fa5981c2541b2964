"""A working with one fault: proved lines, one line that a slip has changed, and what follows from it.

    the proved lines before -> the line with a slip -> the planner works what now stands there -> letters put back

Nothing of it is believed: every line is decided again, see `following`. A working is used only when exactly the line with
the slip is refuted and every other line is proved to follow from the line before it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Integral, Sum, Symbol, sum_of
from qbank.maths.factors import Factored
from qbank.maths.verdict import Proof, Proved, Refuted, Witness
from qbank.messages import say
from qbank.techniques.carrying import letters_of, multiplied
from qbank.techniques.following import follow, numbers_named
from qbank.techniques.planner import solve
from qbank.techniques.presenting import Row
from qbank.techniques.substituting.substitution_search import put_back
from qbank.techniques.working import Line, WorkedSolution
from qbank.techniques.wrong_lines import Place, WrongLine, integral_terms, wrong_steps

__all__ = ["FaultyWorking", "faulty_places", "faulty_working", "wrong_versions"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultyWorking:
    """A working with one fault.

    Attributes:
        rows: the lines below the integral, without a constant of integration.
        place: which of them is wrong, counted from 0.
        wrong: the line with its slip.
        right: what belongs there.
        evidence: for each line, the proof that it follows, and for the wrong one the witness.
    """

    rows: tuple[Row, ...]
    place: int
    wrong: WrongLine
    right: Row
    evidence: tuple[Proof | Witness, ...]


def faulty_places(solution: WorkedSolution) -> tuple[int, ...]:
    """The lines that a slip may change: those of the chain."""
    return tuple(place for place, line in enumerate(solution.lines) if line.kind == "step")


def wrong_versions(solution: WorkedSolution, place: int) -> Iterator[WrongLine]:
    """What slips make of a line of the chain.

    Args:
        solution: the proved solution.
        place: of the line, counted from 0.
    """
    before: Expression = Integral(solution.integrand, solution.variable)
    for line in solution.lines[:place]:
        if line.kind == "step" and isinstance(line.statements[0], Expression):
            before = line.statements[0]
    line = solution.lines[place]
    (step,) = line.statements
    assert isinstance(step, Expression)
    found = Place(
        before=before,
        line=step,
        rule=line.rule,
        bindings=_letters(solution.lines[:place]),
        differentiated=frozenset(
            one.statements[0].left  # type: ignore[union-attr, misc]
            for one in solution.lines[:place]
            if one.kind == "let" and len(one.statements) == 2
        ),
        variable=solution.variable,
    )
    yield from wrong_steps(found)


def faulty_working(solution: WorkedSolution, place: int, wrong: WrongLine) -> FaultyWorking | None:
    """The working that goes wrong at a line and follows from it afterwards.

    Args:
        solution: the proved solution.
        place: of the line, counted from 0.
        wrong: what a slip makes of it.

    Returns:
        The working; None where nothing follows from the wrong line, or some line is not decided as it should be.
    """
    (line,) = wrong.statements
    assert isinstance(line, Expression)
    lines = solution.lines
    if wrong.ratio is not None and not isinstance(line, Sum):
        after: tuple[Row, ...] | None = tuple(_times(wrong.ratio, one) for one in lines[place + 1 :])
    else:
        after = _onwards(line, _letters(lines[:place]), solution)
    if after is None:
        return None
    rows = _without_repeats(
        (
            *(_row(one) for one in lines[:place]),
            Row(kind="step", statements=(line,), reason=lines[place].reason, rule=lines[place].rule),
            *after,
        )
    )
    verdicts = follow(rows, Integral(solution.integrand, solution.variable), numbers_named(lines))
    evidence: list[Proof | Witness] = []
    for at, verdict in enumerate(verdicts):
        if isinstance(verdict, Refuted) and at == place:
            evidence.append(verdict.witness)
        elif isinstance(verdict, Proved) and at != place and not verdict.undefined_at:
            evidence.append(verdict.proof)
        else:
            return None
    return FaultyWorking(
        rows=rows, place=place, wrong=wrong, right=_row(lines[place]), evidence=tuple(evidence)
    )


def _row(line: Line) -> Row:
    return Row(kind=line.kind, statements=line.statements, reason=line.reason, rule=line.rule)


def _without_repeats(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """The rows but for those that say what the one before says."""
    return tuple(row for at, row in enumerate(rows) if not at or row.statements != rows[at - 1].statements)


def _times(ratio: Factored, line: Line) -> Row:
    """A line of the chain multiplied by what the line with the slip is."""
    row = _row(line)
    (*_, last) = row.statements
    if row.kind != "step" or not isinstance(last, Expression):
        return row
    return replace(row, statements=(multiplied(ratio, last),))


def _letters(lines: tuple[Line, ...]) -> dict[Symbol, Expression]:
    """The letters of substitutions, each with what it stands for."""
    return {
        first.left: first.right
        for line in lines
        if line.kind == "let" and isinstance(first := line.statements[0], Equation)
        if isinstance(first.left, Symbol)
    }


def _onwards(
    line: Expression, letters: dict[Symbol, Expression], solution: WorkedSolution
) -> tuple[Row, ...] | None:
    """The lines from a wrong line to its answer."""
    terms = integral_terms(line)
    integrals = [one for one in terms if not isinstance(one, Expression)]
    if len(integrals) > 1 or (not integrals and any(isinstance(n, Integral) for n in line.walk())):
        return None
    found: list[Row] = []
    last = line
    if integrals:
        ((_, integral),) = integrals
        worked = solve(integral.integrand, integral.variable)
        if worked is None or letters_of(worked) & {*letters, *line.symbols(), solution.variable}:
            return None
        for one in worked.lines:
            (*_, statement) = one.statements
            if one.kind == "step":
                assert isinstance(statement, Expression)
                last = _placed(terms, statement)
                found.append(Row(kind="step", statements=(last,), reason=one.reason, rule=one.rule))
            else:
                found.append(_row(one))
    for letter, meaning in reversed(letters.items()):
        if letter in last.symbols():
            last = put_back(last, letter, meaning)
            reason = say("Put the function back for {letter}.", letter=letter.name)
            found.append(Row(kind="step", statements=(last,), reason=reason, rule="substitute-back"))
    return tuple(found)


def _placed(terms: tuple[object, ...], step: Expression) -> Expression:
    """A line with a step of its integral's own working in the place of the integral."""
    return sum_of(
        *(
            one if isinstance(one, Expression) else multiplied(one[0], step)  # type: ignore[index]
            for one in terms
        )
    )
