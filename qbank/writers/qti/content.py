"""Prose, mathematics and worked solutions as XHTML with MathML.

Mathematics stands in `<span role="math" aria-label="...">`: the words for assistive technology are on the span, since
QTI allows no label on `math` itself, and a reader that drops the span still has `alttext`. QTI 2.1 has `alttext` alone.
"""

from __future__ import annotations

from typing import Literal

from lxml import etree

from qbank.items.item import Item, Numeric, Prose
from qbank.maths.conventions import Conventions
from qbank.maths.equation import Statement
from qbank.maths.notation import latex, lay_out, speech
from qbank.maths.notation.mathml import MATHML, markup, quoted
from qbank.techniques.presenting import Row, with_constant
from qbank.writers import phrases
from qbank.writers.characters import one_line, shown
from qbank.writers.formulas import formula, tex_wanted
from qbank.writers.qti.elements import add
from qbank.writers.qti.generation import generation_of

__all__ = ["add_answer", "add_mathematics", "add_prose", "add_row", "add_text", "add_working"]

_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it


def add_prose(parent: _Element, prose: Prose, conventions: Conventions) -> None:
    """Append text and mathematics, in their order, to what is already inside `parent`."""
    for piece in prose:
        if isinstance(piece, str):
            add_text(parent, piece)
        else:
            add_mathematics(parent, piece, conventions)


def add_text(parent: _Element, text: str) -> None:
    """Append plain text to what is already inside `parent`."""
    if len(parent):
        parent[-1].tail = (parent[-1].tail or "") + shown(text)
    else:
        parent.text = (parent.text or "") + shown(text)


def add_mathematics(
    parent: _Element, statement: Statement, conventions: Conventions, *, after: Literal["", "="] = ""
) -> None:
    """Append mathematics with its spoken words, set in full size though in line with the text.

    It is a mark, until `formulas` has settled the whole.

    Args:
        parent: where it goes.
        statement: an expression or an equation.
        conventions: how it is written.
        after: `=` to continue a chain of equal expressions.
    """
    generation = generation_of(str(parent.tag))
    box = lay_out(statement, conventions)
    words, inside = quoted(shown(one_line(speech(box)))), markup(box)
    if after:
        words, inside = f"equals {words}", f'<mo form="infix">{after}</mo>{inside}'
    style = ' displaystyle="true"'
    if not generation.styled_math:
        style, inside = "", f"<mstyle{style}>{inside}</mstyle>"
    math = f'<math xmlns="{MATHML}" alttext="{words}"{style}>{inside}</math>'
    if generation.aria:
        math = f'<span role="math" aria-label="{words}">{math}</span>'
    tex = f"{after} {latex(box)}".lstrip() if tex_wanted() else None
    parent.append(formula(math, tex))


def add_working(parent: _Element, item: Item) -> None:
    """Append the worked solution: what is integrated, then numbered steps, each saying why and then what.

    The mathematics stands below its reason, not beside it, so that neither is squeezed where there is little room.
    """
    steps: _Element | None = None
    for row in item.working:
        if row.kind == "start":
            add_row(add(parent, "p"), row, item.conventions)
            steps = None
            continue
        if steps is None:
            steps = add(parent, "ol")
        step = add(steps, "li", text=row.reason)
        add_row(add(step, "div"), row, item.conventions)


def add_row(line: _Element, row: Row, conventions: Conventions) -> None:
    """Append the mathematics of a row, with the words that open a substitution or an identity."""
    opening = {"let": phrases.LET, "aside": phrases.USE}.get(row.kind, "")
    add_text(line, opening)
    for position, statement in enumerate(row.statements):
        if position:
            add_text(line, phrases.SO if row.kind == "let" else ", ")
        add_mathematics(line, statement, conventions, after="=" if row.kind == "step" else "")


def add_answer(parent: _Element, item: Item) -> None:
    """Append the right answer: an antiderivative with its constant, or a value."""
    conventions = item.conventions
    if not item.asks_for_value:
        add_mathematics(parent, with_constant(item.key, conventions.constant), conventions)
        return
    add_mathematics(parent, item.key, conventions)
    if isinstance(item.response, Numeric):
        response = item.response
        decimal = response.decimal.replace(".", conventions.decimal)
        add_text(parent, phrases.rounded(decimal, response.figures))
