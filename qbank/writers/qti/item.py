"""One item: declarations, body, response processing, and the worked solution as modal feedback."""

from __future__ import annotations

from functools import cache
from typing import assert_never

from qbank.items.applications.figure import Figure
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
from qbank.messages import in_language
from qbank.writers import phrases
from qbank.writers.artifact import GENERATOR
from qbank.writers.figures import Figures
from qbank.writers.formulas import AS_MATHML, Formulas
from qbank.writers.pictures import STYLES_PATH
from qbank.writers.qti.boxes import add_boxes
from qbank.writers.qti.coefficients import PART
from qbank.writers.qti.content import (
    add_figure,
    add_marked_lines,
    add_phrase,
    add_prose,
    add_solution,
    add_text,
)
from qbank.writers.qti.declarations import declare
from qbank.writers.qti.elements import QtiElement, add, add_content_body, frame, qti_root
from qbank.writers.qti.feedback import add_shown_for
from qbank.writers.qti.generation import Generation
from qbank.writers.qti.matching import SOME, add_matching
from qbank.writers.qti.mathematics import written
from qbank.writers.qti.names import (
    ITEM_TO_TOP,
    RESPONSE,
    SOLUTION,
    XML_LANG,
)
from qbank.writers.qti.processing import SHOWN, add_processing, slip_name
from qbank.writers.qti.tasks import add_task
from qbank.writers.tree import Element, document, indented, put_inline

__all__ = ["item_document"]


def item_document(
    item: Item,
    generation: Generation,
    *,
    shuffle: bool,
    formulas: Formulas = AS_MATHML,
    figures: Figures | None = None,
) -> bytes:
    """The bytes of one item's file.

    Args:
        item: the item.
        generation: the generation of QTI.
        shuffle: whether the reader may put the options of a choice in another order.
        formulas: how formulas are shown.
        figures: the figures of the package; without them none is shown.
    """
    top = qti_root(
        generation,
        "qti-assessment-item",
        {
            "identifier": item.identifier,
            "title": item.title,
            XML_LANG: item.language,
            "tool-name": GENERATOR,
            "adaptive": "false",
            "time-dependent": "false",
        },
        formulas,
    )
    declare(top, item)
    if formulas.album is not None:
        add(top, "qti-stylesheet", {"href": ITEM_TO_TOP + STYLES_PATH, "type": "text/css"})
    body = add(top, "qti-item-body")
    match item.response:
        case Choice() | SeveralAnswers():
            _choice(body, item, item.response, shuffle=shuffle)
        case Matching():
            _matching(body, item, item.response, shuffle=shuffle)
        case Numeric():
            _numeric(body, item, item.response)
        case Coefficients():
            _coefficients(body, item, item.response)
        case FreeExpression():
            _free_expression(body, item, item.response)
        case WorkingTask():
            add_task(body, item, item.response, shuffle=shuffle)
        case _:
            assert_never(item.response)
    if item.figure is not None and figures is not None:
        _figure(body, item.figure, figures)
    add_processing(top, item)
    _solution(top, item)
    formulas.settle(top)
    return _written(top)


def _figure(body: QtiElement, figure: Figure, figures: Figures) -> None:
    """The figure below the question: in the prompt of an interaction that has one, else after the first paragraph."""
    prompt = next((one for one in body.children[0].children if one.name.endswith(b"prompt")), None)
    if isinstance(prompt, QtiElement):
        add(prompt, "br")
        add_figure(prompt, figure, figures, ITEM_TO_TOP)
        return
    paragraph = add(body, "p")
    body.parts.insert(1, body.parts.pop())
    add_figure(paragraph, figure, figures, ITEM_TO_TOP)


def _written(top: QtiElement) -> bytes:
    """The document: declarations and processing are indented; in the body and the feedback a blank would be seen."""
    content = _content(top.generation)
    pieces = [b"<%b%b>" % (top.name, top.attributes)]
    for part in top.parts:
        pieces.append(b"\n  ")
        if isinstance(part, Element) and part.name in content:
            put_inline(part, pieces)
        else:
            pieces.append(indented(part, 1) if isinstance(part, Element) else part)
    pieces.append(b"\n</%b>" % top.name)
    return document(*pieces)


@cache
def _content(generation: Generation) -> frozenset[bytes]:
    """The elements that hold what students see."""
    return frozenset(generation.name(name).encode() for name in ("qti-item-body", "qti-modal-feedback"))


def _choice(body: QtiElement, item: Item, response: Choice | SeveralAnswers, *, shuffle: bool) -> None:
    attributes = {
        "response-identifier": RESPONSE,
        "shuffle": "true" if shuffle else "false",
        # 0 stands for any number of them
        "max-choices": "1" if isinstance(response, Choice) else "0",
    }
    interaction = add(body, "qti-choice-interaction", attributes)
    add_prose(add(interaction, "qti-prompt"), item.prompt, item.conventions)
    write = written(interaction, item.conventions).statement
    shown, told = frame(interaction.generation, _answer)
    for option in response.options:
        before, after = frame(interaction.generation, _option, option.identifier)
        interaction.parts += (before, shown, write(option.answer), told)
        add_shown_for(interaction, option.identifier, option.feedback, item)
        interaction.parts.append(after)


def _option(interaction: QtiElement, identifier: str) -> QtiElement:
    """One block, for a reader that sets the parts of a choice side by side."""
    return add(add(interaction, "qti-simple-choice", {"identifier": identifier}), "div")


def _answer(block: QtiElement) -> QtiElement:
    return add(block, "div")


def _matching(body: QtiElement, item: Item, response: Matching, *, shuffle: bool) -> None:
    add_matching(body, item, response, shuffle=shuffle)
    add_shown_for(body, "RIGHT", (phrases.RIGHT,), item)
    for partner in response.partners:
        if partner.misled is not None:
            add_shown_for(body, slip_name(0), partner.feedback, item)
    add_shown_for(body, SOME, (phrases.PAIRS_PARTLY_RIGHT,), item)


def _numeric(body: QtiElement, item: Item, response: Numeric) -> None:
    add_prose(add(body, "p"), item.prompt, item.conventions)
    line = add(body, "p")
    add_phrase(line, phrases.ANSWER, item)
    add_text(line, " ")
    box = {
        "response-identifier": RESPONSE,
        "expected-length": "12",
        "aria-label": in_language(phrases.BOX, item.language),
    }
    add(line, "qti-text-entry-interaction", box)
    add_phrase(add(body, "p"), phrases.DECIMAL_WANTED, item)
    add_shown_for(body, "RIGHT", (phrases.RIGHT,), item)
    for number, slip in enumerate(response.slips):
        add_shown_for(body, slip_name(number), slip.feedback, item)
    add_shown_for(body, "WRONG", (phrases.NOT_RIGHT,), item)
    add_shown_for(body, "UNREAD", (phrases.UNREAD,), item)


def _coefficients(body: QtiElement, item: Item, response: Coefficients) -> None:
    add_prose(add(body, "p"), item.prompt, item.conventions)
    add_boxes(body, item, response)
    add_shown_for(body, "RIGHT", (phrases.RIGHT,), item)
    for number, slip in enumerate(response.slips):
        add_shown_for(body, slip_name(number), slip.feedback, item)
    if len(response.part_marks) > 1:
        add_shown_for(body, PART, (phrases.PARTLY_RIGHT,), item)
    add_shown_for(body, "WRONG", (phrases.NOT_RIGHT,), item)
    add_shown_for(body, "UNREAD", (phrases.UNREAD_BOXES,), item)


def _free_expression(body: QtiElement, item: Item, response: FreeExpression) -> None:
    rubric = add(body, "qti-rubric-block", {"view": "scorer", "use": "scoring"})
    inside = add_content_body(rubric)
    add_prose(add(inside, "p"), response.rubric, item.conventions)
    add_phrase(add(inside, "p"), phrases.marks(item.marks), item)
    add_marked_lines(inside, item, response.line_marks)
    attributes = {"response-identifier": RESPONSE, "expected-lines": "6", "expected-length": "400"}
    interaction = add(body, "qti-extended-text-interaction", attributes)
    add_prose(add(interaction, "qti-prompt"), item.prompt, item.conventions)


def _solution(top: QtiElement, item: Item) -> None:
    attributes = {
        "outcome-identifier": SOLUTION,
        "identifier": SHOWN,
        "show-hide": "show",
        "title": in_language(phrases.WORKED_SOLUTION, item.language),
    }
    inside = add_content_body(add(top, "qti-modal-feedback", attributes))
    add_solution(inside, item)
