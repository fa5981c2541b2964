"""A worked solution and an item as plain text for the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from qbank.items.item import Choice, FreeExpression, Item, Numeric, Prose
from qbank.maths.conventions import Conventions
from qbank.maths.notation import plain
from qbank.techniques.presenting import Row

__all__ = ["board", "item_text", "prose_text"]

_REASON_COLUMN = 58


def prose_text(prose: Prose, conventions: Conventions) -> str:
    """Text with its mathematics written in plain characters."""
    return "".join(piece if isinstance(piece, str) else plain(piece, conventions) for piece in prose)


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
        case Choice(options=options):
            for option in options:
                mark = "key" if option.is_key else option.slip
                yield _beside(f"  {option.identifier}  {plain(option.answer, write)}", f"[{mark}]")
        case Numeric() as numeric:
            yield _beside(f"  {plain(numeric.value, write)} = {numeric.decimal}", "[key]")
            for slip in numeric.slips:
                yield _beside(f"  {plain(slip.value, write)}", f"[{slip.slip}]")
        case FreeExpression(rubric=rubric):
            yield "  " + prose_text(rubric, write)
    if item.working:
        yield ""
        yield from board(item.working, write)
