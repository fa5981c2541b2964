"""What an item declares: its response variables with the right answer, its score, and which feedback is seen."""

from __future__ import annotations

from functools import lru_cache

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
from qbank.writers.formulas import AS_MATHML
from qbank.writers.qti.boxes import declare_boxes
from qbank.writers.qti.elements import QtiElement, add
from qbank.writers.qti.generation import Generation
from qbank.writers.qti.matching import declare_matching
from qbank.writers.qti.names import FEEDBACK, MAXSCORE, RESPONSE, SCORE, SOLUTION
from qbank.writers.qti.several import declare_several
from qbank.writers.qti.tasks import declare_task, feedback_names, is_scored_by_person, listed_names
from qbank.writers.tree import Element, Markup, indented, lasting

__all__ = ["declare"]


def declare(top: QtiElement, item: Item) -> None:
    """Append the declarations of an item."""
    response = item.response
    cardinality = "single"
    feedback: tuple[str, ...] = (FEEDBACK,)
    listed: tuple[str, ...] = ()
    match response:
        case Coefficients():
            declare_boxes(top, response)
        case SeveralAnswers():
            declare_several(top, item, response)
            cardinality = "multiple"
        case Matching():
            declare_matching(top, item, response)
        case WorkingTask():
            declare_task(top, item, response)
            feedback, listed = feedback_names(response), listed_names(response)
        case Choice():
            _declare_response(top, "identifier", response.key.identifier)
        case Numeric():
            _declare_response(top, "float", response.decimal)
        case FreeExpression():
            _declare_response(top, "string", None)
            feedback = ()
    free = isinstance(response, FreeExpression) or (
        isinstance(response, WorkingTask) and is_scored_by_person(response)
    )
    top.parts += _outcomes(top.generation, item.marks, listed, feedback, cardinality, free=free)


def _declare_response(top: QtiElement, base_type: str, key: str | None) -> None:
    top.parts.append(_declaration(top.generation, base_type, key))


@lru_cache(maxsize=64)
def _declaration(generation: Generation, base_type: str, key: str | None) -> Element:
    """The declaration of a response; that of a choice is one of a few."""
    top = QtiElement(b"", b"", generation, AS_MATHML)
    attributes = {"identifier": RESPONSE, "cardinality": "single", "base-type": base_type}
    response = add(top, "qti-response-declaration", attributes)
    if key is not None:
        add(add(response, "qti-correct-response"), "qti-value", text=key)
    return lasting(response)


@lru_cache(maxsize=256)
def _outcomes(
    generation: Generation,
    marks: int,
    listed: tuple[str, ...],
    feedback: tuple[str, ...],
    cardinality: str,
    *,
    free: bool,
) -> tuple[Markup, ...]:
    """The declarations of outcomes, which are the same for many items, as they are written in each of them."""
    top = QtiElement(b"", b"", generation, AS_MATHML)
    _declare_score(top, marks, free=free)
    _outcome(top, MAXSCORE, "float", default=str(marks))
    for name in listed:
        _outcome(top, name, "float", default="0")
    for name in feedback:
        _outcome(top, name, "identifier", cardinality=cardinality)
    _outcome(top, SOLUTION, "identifier")
    return tuple(Markup(indented(child, 1)) for child in top.children)


def _declare_score(top: QtiElement, marks: int, *, free: bool) -> None:
    """SCORE starts at 0, except where a person sets it: then it has no value until they have."""
    score = _outcome(top, SCORE, "float", default=None if free else "0")
    generation = top.generation
    score.set(generation.name("normal-maximum"), str(marks))
    score.set(generation.name("normal-minimum"), "0")
    if free and generation.human_scoring:
        score.set(generation.name("external-scored"), "human")


def _outcome(
    top: QtiElement,
    identifier: str,
    base_type: str,
    *,
    default: str | None = None,
    cardinality: str = "single",
) -> QtiElement:
    attributes = {"identifier": identifier, "cardinality": cardinality, "base-type": base_type}
    declaration = add(top, "qti-outcome-declaration", attributes)
    if default is not None:
        add(add(declaration, "qti-default-value"), "qti-value", text=default)
    return declaration
