"""Prose, mathematics and worked solutions as XHTML; how a formula is written is in `mathematics`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache

from qbank.items.applications.figure import Figure
from qbank.items.item import Item, Prose
from qbank.maths.conventions import Conventions
from qbank.maths.equation import Statement
from qbank.maths.expression import Symbol
from qbank.maths.notation.gapped import Piece, has_gap, pieces
from qbank.messages import Message, in_language, saying
from qbank.techniques.presenting import Row
from qbank.writers import phrases
from qbank.writers.figures import Figures
from qbank.writers.qti.elements import QtiElement, add, frame
from qbank.writers.qti.mathematics import Sign, written
from qbank.writers.tree import content

__all__ = [
    "add_figure",
    "add_gapped_row",
    "add_marked_lines",
    "add_mathematics",
    "add_phrase",
    "add_prose",
    "add_row",
    "add_solution",
    "add_text",
]


def add_prose(parent: QtiElement, prose: Prose, conventions: Conventions) -> None:
    """Append text and mathematics, in their order, to what is already inside `parent`."""
    write = written(parent, conventions).statement
    parent.parts += [content(piece) if isinstance(piece, str) else write(piece) for piece in prose]


def add_text(parent: QtiElement, text: str) -> None:
    """Append plain text to what is already inside `parent`."""
    parent.parts.append(content(text))


def add_mathematics(
    parent: QtiElement, statement: Statement, conventions: Conventions, *, after: Sign = ""
) -> None:
    """Append mathematics with its spoken words, set in full size though in line with the text.

    Args:
        parent: where it goes.
        statement: an expression or an equation.
        conventions: how it is written.
        after: `=` to continue a chain of equal expressions.
    """
    parent.parts.append(written(parent, conventions, after).statement(statement))


def _add_gapped(
    parent: QtiElement,
    statement: Statement,
    conventions: Conventions,
    add_box: Callable[[QtiElement], object],
    *,
    after: Sign = "",
) -> None:
    """Append mathematics with a gap: a formula, the box of the gap, and what follows it.

    Args:
        parent: where it goes.
        statement: with one gap.
        conventions: how it is written.
        add_box: appends the box to an element.
        after: as of other mathematics.
    """
    found = pieces(statement, conventions)
    assert found is not None, "a gap is left where a box can stand"
    signs: tuple[tuple[Piece | None, Sign], ...] = ((found.before, after), (found.after, ""))
    for piece, sign in signs:
        if piece is not None and (piece.latex or sign):
            parent.parts.append(written(parent, conventions, sign).piece(piece))
        if piece is found.before:
            add_box(add(parent, "sup") if found.raised else parent)


def _working(parent: QtiElement, item: Item) -> None:
    """Append the worked solution: what is integrated, then numbered steps, each saying why and then what.

    The mathematics stands below its reason, not beside it, so that neither is squeezed where there is little room.
    """
    write = written(parent, item.conventions, "=").statement
    steps: QtiElement | None = None
    for row in item.working:
        if row.kind == "start":
            add_row(add(parent, "p"), row, item)
            steps = None
            continue
        if steps is None:
            steps = add(parent, "ol")
        before, after = frame(parent.generation, _step, row.reason)
        if row.kind == "step":
            steps.parts += (before, write(row.statements[0]), after)
        else:
            steps.parts.append(before)
            add_row(steps, row, item)
            steps.parts.append(after)


def _step(steps: QtiElement, reason: str) -> QtiElement:
    """A paragraph for each step, so that the room between two of them is larger than that within one."""
    step = add(add(steps, "li"), "p", text=reason)
    add(step, "br")
    return step


def add_solution(parent: QtiElement, item: Item) -> None:
    """Append the worked solution, and the answer where the working does not end with it."""
    _working(parent, item)
    for phrase in phrases.conclusion(item):
        add_phrase(add(parent, "p"), phrase, item)


def add_marked_lines(parent: QtiElement, item: Item, marks: Sequence[int]) -> None:
    """Append the lines of the worked solution that earn marks, each with how many.

    Args:
        parent: where they go.
        item: whose working they are.
        marks: of each row of the working; nothing is appended where none earns any.
    """
    if not any(marks):
        return
    add_phrase(add(parent, "p"), phrases.MARKS_BY_LINE, item)
    lines = add(parent, "ol")
    for row, earned in zip(item.working, marks, strict=True):
        if earned:
            line = add(lines, "li")
            add_row(line, row, item)
            add_text(line, " ")
            add_phrase(line, phrases.marks_of_line(earned), item)


def add_row(line: QtiElement, row: Row, item: Item) -> None:
    """Append the mathematics of a row, with the words that open a substitution or an identity."""
    if row.kind == "step":
        (statement,) = row.statements
        add_mathematics(line, statement, item.conventions, after="=")
        return
    language = item.language
    write = written(line, item.conventions).statement
    for piece in _worded(row.kind, len(row.statements), language, saying(language)):
        line.parts.append(piece if isinstance(piece, bytes) else write(row.statements[piece]))


@lru_cache(maxsize=64)
def _worded(kind: str, count: int, language: str, _say: Callable[..., str]) -> tuple[bytes | int, ...]:
    """The words round the statements of a row, as they are written, and the places of the statements.

    Args:
        kind: of the row.
        count: how many statements it has.
        language: BCP 47 tag.
        _say: what speaks it, so that words of another catalogue are not remembered.
    """
    places: list[Statement] = [Symbol(str(place)) for place in range(count)]
    row = Row(kind=kind, statements=tuple(places))
    said = in_language(phrases.mathematics(row), language)
    return tuple(content(one) if isinstance(one, str) else places.index(one) for one in said)


def add_gapped_row(line: QtiElement, row: Row, item: Item, add_box: Callable[[QtiElement], object]) -> None:
    """Append the mathematics of a row that has a gap.

    Args:
        line: where it goes.
        row: the row, with a gap in one of its statements.
        item: the item, for its conventions and its language.
        add_box: appends the box of the gap to an element.
    """
    after: Sign = "=" if row.kind == "step" else ""
    for piece in in_language(phrases.mathematics(row), item.language):
        if isinstance(piece, str):
            add_text(line, piece)
        elif has_gap(piece):
            _add_gapped(line, piece, item.conventions, add_box, after=after)
        else:
            add_mathematics(line, piece, item.conventions)


def add_phrase(parent: QtiElement, phrase: Message | Prose, item: Item) -> None:
    """Append what a package says of itself, in the language of the item."""
    prose = (phrase,) if isinstance(phrase, str) else phrase
    add_prose(parent, in_language(prose, item.language), item.conventions)


def add_figure(parent: QtiElement, figure: Figure, figures: Figures, folder: str) -> None:
    """Show a figure, with its description as alternative text.

    Args:
        parent: where it goes.
        figure: what is shown.
        figures: of the package.
        folder: what leads from the document to the top of the package, ending with a slash.
    """
    size = {"width": str(figure.width), "height": str(figure.height)}
    # the address is ours, and may begin with a sign that texts from outside may not have
    add(parent, "img", {"alt": figure.description, **size}).set("src", folder + figures.path(figure))
