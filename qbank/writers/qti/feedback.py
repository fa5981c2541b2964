"""Feedback in the body of an item, which is seen while an outcome has a certain value."""

from __future__ import annotations

from qbank.items.item import Item, Prose
from qbank.writers.qti.content import add_phrase
from qbank.writers.qti.elements import QtiElement, add, add_content_body, frame
from qbank.writers.qti.names import FEEDBACK

__all__ = ["add_shown_for"]


def add_shown_for(parent: QtiElement, value: str, prose: Prose, item: Item, outcome: str = FEEDBACK) -> None:
    """Append feedback.

    Args:
        parent: where it goes.
        value: of the outcome, while which it is seen.
        prose: what it says.
        item: the item, for its conventions and its language.
        outcome: the outcome variable.
    """
    before, after = frame(parent.generation, _block, outcome, value)
    parent.parts.append(before)
    add_phrase(parent, prose, item)
    parent.parts.append(after)


def _block(parent: QtiElement, outcome: str, value: str) -> QtiElement:
    attributes = {"outcome-identifier": outcome, "identifier": value, "show-hide": "show"}
    return add(add_content_body(add(parent, "qti-feedback-block", attributes)), "p")
