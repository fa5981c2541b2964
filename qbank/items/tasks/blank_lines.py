"""A whole line left blank: the choice between the proved line and what slips make of it, refuted where it would stand."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TypeAlias

from qbank.bank.drawing import Stream
from qbank.items.options import Prose
from qbank.items.tasks.asked import TaskOption, TaskQuestion
from qbank.items.tasks.faults import written_out
from qbank.maths.constant_factor import number
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Integral
from qbank.maths.notation import plain
from qbank.maths.verdict import Refuted, Witness
from qbank.messages import say
from qbank.techniques.carrying import multiplied
from qbank.techniques.faulty_working import wrong_versions
from qbank.techniques.following import follows, numbers_named
from qbank.techniques.indexed_integral import all_defined
from qbank.techniques.presenting import Row
from qbank.techniques.working import WorkedSolution
from qbank.techniques.wrong_lines import WrongLine, wrong_differentials

__all__ = ["WrongLines", "line_question", "wrong_lines"]

_LETTERS = "ABCDE"

#: wrong lines for a place, each with where it does not follow
WrongLines: TypeAlias = "tuple[tuple[WrongLine, Witness], ...]"


def line_question(
    name: str,
    place: int,
    solution: WorkedSolution,
    wrong: WrongLines,
    constant: str,
    stream: Stream,
) -> TaskQuestion:
    """The choice for a line.

    Args:
        name: identifier of the question.
        place: of the line, counted from 0.
        solution: the proved solution.
        wrong: the wrong options.
        constant: the letter of the constant of integration.
        stream: draws the order.
    """
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


def wrong_lines(solution: WorkedSolution, place: int, wanted: int, stream: Stream) -> WrongLines:
    """Wrong lines for a place, each refuted there and no two shown alike: slips first, then plainer mistakes.

    Args:
        solution: the proved solution.
        place: of the line, counted from 0.
        wanted: how many at most.
        stream: draws which slips.
    """
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
