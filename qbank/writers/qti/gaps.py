"""Gaps in the lines of a working: a box in each, what is accepted in it, and what is said of it.

A number is accepted in any of its spellings (see `exact_spellings`), which a mapping lists. No response processing can tell
whether an expression is equivalent to another: an item that asks for one is scored by a person, or by `qbank mark`, and
its rubric says what belongs in each gap.
"""

from __future__ import annotations

from qbank.items.item import Item
from qbank.items.tasks.asked import TaskGap, WorkingTask
from qbank.maths.expression import as_fraction
from qbank.maths.notation import plain
from qbank.messages import in_language
from qbank.writers import phrases
from qbank.writers.exact_spellings import exact_spellings
from qbank.writers.qti.content import add_phrase
from qbank.writers.qti.elements import QtiElement, add, add_content_body
from qbank.writers.qti.feedback import add_shown_for

__all__ = [
    "add_gap_box",
    "add_gap_feedback",
    "add_is_right",
    "add_listed",
    "add_rubric",
    "declare_gap",
    "told_of",
]

#: characters that a box has room for
_NUMBER, _EXPRESSION = 6, 20


def declare_gap(top: QtiElement, name: str, gap: TaskGap, item: Item) -> None:
    """Append the declaration of a gap's response variable.

    Args:
        top: the item.
        name: of the response variable.
        gap: the gap.
        item: the item, for its conventions.
    """
    attributes = {"identifier": name, "cardinality": "single", "base-type": "string"}
    declaration = add(top, "qti-response-declaration", attributes)
    number = as_fraction(gap.value) if gap.letter is None else None
    key = plain(gap.value, item.conventions) if number is None else str(number)
    add(add(declaration, "qti-correct-response"), "qti-value", text=key)
    if number is None:
        return
    mapping = add(declaration, "qti-mapping", {"default-value": "0"})
    for text in exact_spellings(number, item.conventions.decimal, around=True):
        entry = add(mapping, "qti-map-entry")
        # a blank at an end is meant, and is kept
        entry.set(mapping.generation.name("map-key"), text)
        entry.set(mapping.generation.name("mapped-value"), "1")


def add_gap_box(parent: QtiElement, name: str, gap: TaskGap, item: Item) -> None:
    """Append the box of a gap.

    Args:
        parent: where it goes.
        name: of the response variable.
        gap: the gap.
        item: the item.
    """
    assert item.form == "complete-working"
    gaps = item.response.gaps if isinstance(item.response, WorkingTask) else ()
    label = phrases.gap(gaps.index(gap) + 1, len(gaps), gap)
    length = str(_NUMBER if gap.letter is None else _EXPRESSION)
    attributes = {
        "response-identifier": name,
        "expected-length": length,
        "aria-label": in_language(label, item.language),
    }
    if parent.generation.hyphenated:
        # a word of the vocabulary that 3.0 has for how interactions look
        attributes["class"] = f"qti-input-width-{length}"
    add(parent, "qti-text-entry-interaction", attributes)


def told_of(gap: TaskGap, *, right: bool) -> str:
    """The value of the feedback variable of a gap."""
    return f"{gap.identifier}{'RIGHT' if right else 'WRONG'}"


def add_gap_feedback(parent: QtiElement, gap: TaskGap, item: Item, outcome: str) -> None:
    """Append what is wanted in a gap, where the line does not show it, and what is said of it once it is filled.

    Args:
        parent: the line.
        gap: the gap.
        item: the item.
        outcome: the outcome variable of the feedback.
    """
    if gap.letter is not None:
        add_phrase(add(parent, "div"), phrases.expression_wanted(gap.letter), item)
    else:
        if gap.raised:
            add_phrase(add(parent, "div"), phrases.EXPONENT_WANTED, item)
        add_shown_for(parent, told_of(gap, right=True), gap.right, item, outcome)
    add_shown_for(parent, told_of(gap, right=False), gap.wrong, item, outcome)


def add_listed(processing: QtiElement, name: str, listed: str) -> None:
    """Append the rule that sets an outcome to 1 where a number is among the spellings that are accepted.

    Readers were seen that map a response only where it becomes the value of an outcome.

    Args:
        processing: where it goes.
        name: of the response variable.
        listed: of the outcome variable, which is 0 otherwise.
    """
    given = add(add(processing, "qti-response-condition"), "qti-response-if")
    add(add(add(given, "qti-not"), "qti-is-null"), "qti-variable", {"identifier": name})
    add(add(given, "qti-set-outcome-value", {"identifier": listed}), "qti-map-response", {"identifier": name})


def add_is_right(parent: QtiElement, listed: str) -> None:
    """Append the condition that a number is among the spellings that are accepted."""
    test = add(parent, "qti-gte")
    add(test, "qti-variable", {"identifier": listed})
    add(test, "qti-base-value", {"base-type": "float"}, "0.5")


def add_rubric(body: QtiElement, item: Item, response: WorkingTask) -> None:
    """Append what belongs in each place, for the person who scores."""
    inside = add_content_body(add(body, "qti-rubric-block", {"view": "scorer", "use": "scoring"}))
    for one in response.questions:
        wanted = phrases.belongs_there(one)
        add_phrase(add(inside, "p"), wanted, item)
    add_phrase(add(inside, "p"), phrases.marks(item.marks), item)
