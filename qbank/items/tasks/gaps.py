"""Completing a working: lines of a proved solution left blank, each with its right line among wrong ones.

How much is left blank is the fading: one line, every second line, or every line but the first. What may stand in a blank is
the proved line, or what a slip makes of it; a wrong one is refuted where it would stand.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Literal, TypeAlias

from qbank.bank.drawing import Stream
from qbank.items.options import Prose
from qbank.items.tasks.asked import TaskLine, TaskOption, TaskQuestion, WorkingTask
from qbank.items.tasks.faults import written_out
from qbank.maths.constant_factor import number
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Integral
from qbank.maths.notation import plain
from qbank.maths.verdict import Refuted, Witness
from qbank.messages import prose, say
from qbank.techniques.carrying import multiplied
from qbank.techniques.faulty_working import wrong_versions
from qbank.techniques.following import follows, numbers_named
from qbank.techniques.indexed_integral import all_defined
from qbank.techniques.presenting import Row
from qbank.techniques.working import WorkedSolution
from qbank.techniques.wrong_lines import WrongLine, wrong_differentials

__all__ = ["Fading", "gap_task", "prompt_gaps"]

Fading: TypeAlias = Literal[1, 2, 3]

_LETTERS = "ABCDE"
_FEWEST_LINES, _MOST_LINES, _FEWEST_OPTIONS = 3, 10, 3


def prompt_gaps(integral: Integral) -> Prose:
    """The question."""
    return prose(
        "Complete this working of {integral}: choose what belongs in each line left blank.", integral=integral
    )


def gap_task(
    solution: WorkedSolution, constant: str, fading: Fading, options: int, stream: Stream
) -> WorkingTask | str:
    """Draw the blank lines and their options.

    Args:
        solution: the proved solution.
        constant: the letter of the constant of integration.
        fading: how much is left blank.
        options: how many a question has at most.
        stream: draws which lines are blank, and the wrong ones.

    Returns:
        The task, or why there is none.
    """
    count = len(solution.lines)
    if not _FEWEST_LINES <= count <= _MOST_LINES:
        return "a working to be completed has three to ten lines"
    wrong = {place: _wrong(solution, place, options - 1, stream) for place in range(1, count)}
    possible = tuple(place for place, found in wrong.items() if len(found) >= _FEWEST_OPTIONS - 1)
    if (fading == 3 and len(possible) < count - 1) or len(possible) < fading:
        return "too few wrong lines could be found for the lines that are to be left blank"
    blanks = _blanks(possible, fading, stream)
    numbers = {place: f"Q{number}" for number, place in enumerate(blanks, 1)}
    rows = [
        Row(kind=line.kind, statements=line.statements, reason=line.reason, rule=line.rule)
        for line in solution.lines
    ]
    called = all_defined(rows)
    return WorkingTask(
        task="complete-working",
        lines=tuple(
            TaskLine(number=at + 1, row=written_out(row, constant, called), question=numbers.get(at))
            for at, row in enumerate(rows)
        ),
        questions=tuple(
            _question(name, place, solution, wrong[place], constant, stream)
            for place, name in numbers.items()
        ),
    )


def _blanks(possible: tuple[int, ...], fading: Fading, stream: Stream) -> tuple[int, ...]:
    match fading:
        case 1:
            return (stream.shuffled(possible)[0],)
        case 2:
            return possible[stream.below(2) :: 2]
        case _:
            return possible


def _question(
    name: str,
    place: int,
    solution: WorkedSolution,
    wrong: tuple[tuple[WrongLine, Witness], ...],
    constant: str,
    stream: Stream,
) -> TaskQuestion:
    line = solution.lines[place]
    found: tuple[tuple[WrongLine, Witness] | None, ...] = stream.shuffled((None, *wrong))
    options, called = [], all_defined(solution.lines)
    for letter, one in zip(_LETTERS, found, strict=False):
        statements = line.statements if one is None else one[0].statements
        row = written_out(Row(kind=line.kind, statements=statements), constant, called)
        options.append(
            TaskOption(
                identifier=name + letter,
                shown=_shown(row.statements),
                right=one is None,
                judgement="follows" if one is None else "refuted",
                slip=None if one is None else one[0].slip,
                feedback=(say("Right.") if one is None else one[0].sentence,),
                evidence=line.proof if one is None else one[1],
            )
        )
    return TaskQuestion(identifier=name, line=place + 1, options=tuple(options))


def _shown(statements: tuple[Statement, ...]) -> Prose:
    first, *others = statements
    return (first, *(piece for one in others for piece in (", ", one)))


def _wrong(
    solution: WorkedSolution, place: int, wanted: int, stream: Stream
) -> tuple[tuple[WrongLine, Witness], ...]:
    """Wrong lines for a place, each refuted there and no two shown alike: slips first, then plainer mistakes."""
    lines, line = solution.lines, solution.lines[place]
    integral, named = Integral(solution.integrand, solution.variable), numbers_named(solution.lines)
    found: list[tuple[WrongLine, Witness]] = []
    texts = {_text(line.statements)}
    for wrong in (*stream.shuffled(tuple(_slips(solution, place))), *_plain_mistakes(line.statements)):
        if len(found) == wanted:
            break
        text = _text(wrong.statements)
        if text in texts:
            continue
        texts.add(text)
        verdict = follows(Row(kind=line.kind, statements=wrong.statements), lines[:place], integral, named)
        if isinstance(verdict, Refuted):
            found.append((wrong, verdict.witness))
    return tuple(found)


def _slips(solution: WorkedSolution, place: int) -> Iterator[WrongLine]:
    line = solution.lines[place]
    if line.kind == "step":
        yield from wrong_versions(solution, place)
    elif line.kind == "let":
        yield from wrong_differentials(line.statements, solution.variable)


def _plain_mistakes(statements: tuple[Statement, ...]) -> Iterator[WrongLine]:
    """The last expression or right side with its sign turned, doubled or halved."""
    *first, last = statements
    right = last.right if isinstance(last, Equation) else last
    for name, sentence, factor in (
        ("sign-turned", say("Check the sign of this line."), Fraction(-1)),
        ("number-doubled", say("Check the number in front in this line."), Fraction(2)),
        ("number-halved", say("Check the number in front in this line."), Fraction(1, 2)),
    ):
        changed = multiplied(number(factor), right)
        wrong = Equation(last.left, changed) if isinstance(last, Equation) else changed
        yield WrongLine(slip=name, sentence=sentence, statements=(*first, wrong))


def _text(statements: tuple[Statement, ...]) -> str:
    return ", ".join(plain(one) for one in statements)
