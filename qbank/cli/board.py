"""A worked solution and an item as plain text for the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from qbank.items.item import (
    Choice,
    Coefficients,
    FreeExpression,
    Item,
    Matching,
    Numeric,
    SeveralAnswers,
    WorkingTask,
)
from qbank.items.prose_text import prose_text
from qbank.items.tasks.asked import TaskGap
from qbank.maths.conventions import Conventions
from qbank.maths.equation import Equation
from qbank.maths.expression import Integral, Symbol, rational
from qbank.maths.notation import plain
from qbank.techniques.presenting import Row

__all__ = ["board", "item_text"]

_REASON_COLUMN = 58


def board(rows: Iterable[Row], conventions: Conventions) -> Iterator[str]:
    """The lines of a worked solution, mathematics left and reasons right."""
    for row in rows:
        written = [plain(statement, conventions) for statement in row.statements]
        match row.kind:
            case "start":
                text = "    " + written[0]
            case "step":
                text = "  = " + written[0]
            case "let":
                text = "      let " + ", so ".join(written)
            case _:
                text = "      " + ", ".join(written)
        reason = f"[{row.reason}]" if row.reason else ""
        yield _beside(text, reason)


def _beside(text: str, reason: str) -> str:
    if not reason:
        return text
    if len(text) < _REASON_COLUMN:
        return f"{text:<{_REASON_COLUMN}}{reason}"
    return f"{text}\n{'':<{_REASON_COLUMN}}{reason}"


def item_text(item: Item) -> Iterator[str]:
    """An item as a teacher reads it: question, answers with the key marked, slips, working."""
    write = item.conventions
    yield prose_text(item.prompt, write)
    match item.response:
        case Choice(options=options) | SeveralAnswers(options=options):
            for option in options:
                mark = "key" if option.is_key else option.slip
                yield _beside(f"  {option.identifier}  {plain(option.answer, write)}", f"[{mark}]")
        case Matching() as matching:
            yield from _matching(matching, item.variable, write)
        case Numeric() as numeric:
            yield _beside(f"  {plain(numeric.value, write)} = {numeric.decimal}", "[key]")
            for slip in numeric.slips:
                yield _beside(f"  {plain(slip.value, write)}", f"[{slip.slip}]")
        case Coefficients() as coefficients:
            yield from _coefficients(coefficients, write)
        case FreeExpression(rubric=rubric):
            yield "  " + prose_text(rubric, write)
        case WorkingTask() as task:
            yield from _task(task, write)
    if item.working:
        yield ""
        yield from board(item.working, write)


def _matching(response: Matching, variable: Symbol, write: Conventions) -> Iterator[str]:
    for row in response.rows:
        yield _beside(
            f"  {row.identifier}  {plain(Integral(row.integrand, variable), write)}", f"[{row.partner}]"
        )
    for partner in response.partners:
        rows = [row.identifier for row in response.rows if row.partner == partner.identifier]
        led = f"{partner.slip}, with {partner.misled}" if partner.slip else "left over"
        yield _beside(
            f"  {partner.identifier}  {prose_text(partner.shown, write)}", f"[{', '.join(rows) or led}]"
        )


def _task(response: WorkingTask, write: Conventions) -> Iterator[str]:
    """The lines with their numbers, and the options of each question."""
    for line in response.lines:
        (text,) = board((line.gapped or line.row,), write)
        shown = text if response.reasons else text.partition("[")[0].rstrip()
        yield f"{line.number:>3}{shown}" + (f"   <- {line.question}" if line.question else "")
    for one in response.questions:
        if isinstance(one, TaskGap):
            yield _beside(f"  {one.identifier}   {plain(one.value, write)}", f"[{one.kind}]")
            continue
        for option in one.options:
            mark = (
                "key"
                if option.right
                else f"{option.judgement}: {option.slip}"
                if option.slip
                else option.judgement
            )
            yield _beside(f"  {option.identifier}  {prose_text(option.shown, write)}", f"[{mark}]")


def _coefficients(response: Coefficients, write: Conventions) -> Iterator[str]:
    yield _beside(f"  {_named(response.letters, response.values, write)}", "[key]")
    for relation in response.relations:
        numbers = ", ".join(map(str, relation.coefficients))
        yield _beside(f"  and any multiple of ({numbers}) added", "[key]")
    for slip in response.slips:
        yield _beside(f"  {_named(response.letters, slip.values, write)}", f"[{slip.slip}]")
    places = ", ".join(str(point.at) for point in response.points)
    yield f"  compared at {places}; condition number {float(response.condition):.1f}"


def _named(letters: tuple[Symbol, ...], values: tuple[Fraction, ...], write: Conventions) -> str:
    pairs = zip(letters, values, strict=True)
    return ", ".join(plain(Equation(letter, rational(value)), write) for letter, value in pairs)
