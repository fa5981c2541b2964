"""What is shown, as HTML in a text: the standard wants `mattext` to hold it escaped, MathML and all.

A text from outside is escaped twice. First it becomes the text of an element, then the element is written out, and what
was written becomes the text of `mattext`. A reader that takes the text of `mattext` and reads it as HTML is back at the
element with its text.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache

from qbank.items.applications.figure import Figure
from qbank.items.item import Item, Prose, WorkingTask
from qbank.maths.expression import Expression
from qbank.writers import phrases
from qbank.writers.characters import one_line
from qbank.writers.figures import Figures
from qbank.writers.formulas import AS_MATHML, Formulas
from qbank.writers.qti.content import (
    add_figure,
    add_marked_lines,
    add_mathematics,
    add_phrase,
    add_prose,
    add_solution,
)
from qbank.writers.qti.elements import QtiElement
from qbank.writers.qti.elements import add as add_part
from qbank.writers.qti.generation import QTI3
from qbank.writers.qti.tasks import add_lines
from qbank.writers.tree import Element, add, inline

__all__ = [
    "add_material",
    "answer_html",
    "figure_html",
    "marked_lines_html",
    "option_html",
    "prose_html",
    "task_html",
]


def add_material(parent: Element, html: bytes) -> None:
    """Append HTML as the standard holds it."""
    # the standard takes a text to be ASCII unless it says otherwise
    text = add(add(parent, "material"), "mattext", {"texttype": "text/html", "charset": "utf-8"})
    text.parts.append(html.replace(b"&", b"&amp;").replace(b"<", b"&lt;").replace(b">", b"&gt;"))


def prose_html(item: Item, formulas: Formulas, *paragraphs: Prose) -> bytes:
    """Paragraphs of text with mathematics in it, as the item writes them."""

    def fill(top: QtiElement) -> None:
        for prose in paragraphs:
            add_phrase(add_part(top, "p"), prose, item)

    return _html(fill, item.language, formulas)


def figure_html(item: Item, figure: Figure, figures: Figures, folder: str) -> bytes:
    """The figure of an item in a paragraph of its own."""
    return _html(
        lambda top: add_figure(add_part(top, "p"), figure, figures, folder), item.language, AS_MATHML
    )


def option_html(item: Item, formulas: Formulas, answer: Expression) -> bytes:
    """One option of a choice."""
    return _html(
        lambda top: add_mathematics(add_part(top, "p"), answer, item.conventions), item.language, formulas
    )


def task_html(item: Item, formulas: Formulas, response: WorkingTask, last: Prose) -> bytes:
    """What a task about working asks, and the lines of the working; dots stand for a line that is left blank.

    Args:
        item: the item.
        formulas: how formulas are shown.
        response: the task.
        last: what is asked below the lines; nothing for no such question.
    """

    def fill(top: QtiElement) -> None:
        add_prose(add_part(top, "p"), item.prompt, item.conventions)
        for blank in add_lines(top, item, response).values():
            add_part(blank, "div", text=phrases.LEFT_BLANK)
        if last:
            add_phrase(add_part(top, "p"), last, item)

    return _html(fill, item.language, formulas)


def marked_lines_html(item: Item, formulas: Formulas, marks: Sequence[int]) -> bytes:
    """The lines that earn marks, for the person who marks."""
    return _html(lambda top: add_marked_lines(top, item, marks), item.language, formulas)


def answer_html(item: Item, formulas: Formulas) -> bytes:
    """The worked solution under its heading; the answer alone where there is no working."""

    def fill(top: QtiElement) -> None:
        add_phrase(add_part(add_part(top, "p"), "strong"), phrases.WORKED_SOLUTION, item)
        add_solution(top, item)

    return _html(fill, item.language, formulas)


def _html(fill: Callable[[QtiElement], None], language: str, formulas: Formulas) -> bytes:
    """What `fill` appends, written out as HTML; MathML has a namespace of its own."""
    top = QtiElement(b"div", b"", QTI3, formulas)
    fill(top)
    formulas.settle(top)
    said = _said(language)
    for child in top.children:
        child.attributes += said
    return b"".join(map(inline, top.children))


@lru_cache(maxsize=64)
def _said(language: str) -> bytes:
    """The attribute that tells the language of a paragraph."""
    paragraph = Element(b"p")
    paragraph.set("lang", one_line(language))
    return paragraph.attributes
