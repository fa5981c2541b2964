"""Response processing: which response sets which outcome, from literals only.

Readers differ in what they make of a response that is no number, and a comparison with NULL may pass. So a number is
compared only after `not null`, and inside wide bounds that no reading of a malformed text has been seen to get past.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import assert_never

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
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.coefficients import add_coefficients_processing
from qbank.writers.qti.elements import QtiElement, add
from qbank.writers.qti.matching import add_matching_processing
from qbank.writers.qti.names import FEEDBACK, RESPONSE, SCORE, SOLUTION
from qbank.writers.qti.several import add_several_processing
from qbank.writers.qti.tasks import add_task_processing
from qbank.writers.refusal import RefusalError

__all__ = ["SHOWN", "add_processing", "slip_name"]

#: the value of SOLUTION once the worked solution may be seen
SHOWN = "WORKED"

#: what is set when a branch is taken: outcome, base type, literal
_Setting = tuple[str, str, str]


def slip_name(number: int) -> str:
    """The value of FEEDBACK for the slip of that position, counted from 0."""
    return f"SLIP{number + 1}"


def add_processing(parent: QtiElement, item: Item) -> None:
    """Append the response processing of an item."""
    processing = add(parent, "qti-response-processing")
    if isinstance(item.response, WorkingTask) and len(item.response.questions) > 1:
        add_task_processing(processing, item.response, item.marks, SHOWN)
        return
    condition = add(processing, "qti-response-condition")
    match item.response:
        case Choice() | WorkingTask():
            _choice(condition, item)
        case SeveralAnswers():
            add_several_processing(condition, SHOWN)
        case Matching():
            add_matching_processing(condition, item.response, slip_name(0), SHOWN)
        case Numeric():
            _insist_on_not_0(item.identifier, item.response)
            _numeric(condition, item.response, item.marks)
        case Coefficients():
            add_coefficients_processing(condition, item, item.response, SHOWN)
        case FreeExpression():
            given = _branch(condition, "if")
            _not_null(given)
            _set(given, _solution())
        case _:
            assert_never(item.response)


def _choice(condition: QtiElement, item: Item) -> None:
    first = _branch(condition, "if")
    match = add(first, "qti-match")
    _variable(match)
    add(match, "qti-correct", {"identifier": RESPONSE})
    _set(first, _score(item.marks), _solution())
    _copy_response(first)
    other = _branch(condition, "else-if")
    _not_null(other)
    _set(other, _score(0), _solution())
    _copy_response(other)
    _set(_branch(condition, "else"), _score(0))


def _copy_response(branch: QtiElement) -> None:
    """FEEDBACK becomes the identifier of the option chosen."""
    _variable(add(branch, "qti-set-outcome-value", {"identifier": FEEDBACK}))


def _insist_on_not_0(identifier: str, response: Numeric) -> None:
    if response.lower <= 0 <= response.upper:
        # a reader was seen to take a blank for 0, and nothing that can be written here stops it
        what = "a number that may be 0 cannot be marked safely, as a blank response may be read as 0"
        raise RefusalError(identifier, what, "add a condition to its template that rules the value 0 out")


def _numeric(condition: QtiElement, response: Numeric, marks: int) -> None:
    slips = tuple((slip.lower, slip.upper) for slip in response.slips)
    wide = _wide(bound for pair in ((response.lower, response.upper), *slips) for bound in pair)
    right = _branch(condition, "if")
    _between(right, wide, response.lower, response.upper)
    _set(right, _score(marks), _feedback("RIGHT"), _solution())
    for number, (lower, upper) in enumerate(slips):
        branch = _branch(condition, "else-if")
        _between(branch, wide, lower, upper)
        _set(branch, _score(0), _feedback(slip_name(number)), _solution())
    other = _branch(condition, "else-if")
    _not_null(other)
    _set(other, _score(0), _feedback("WRONG"), _solution())
    _set(_branch(condition, "else"), _score(0), _feedback("UNREAD"))


def _wide(bounds: Iterable[Fraction]) -> Fraction:
    """A power of ten, at least a million, that is beyond all the bounds."""
    limit = Fraction(10**6)
    largest = max(abs(bound) for bound in bounds)
    while limit <= largest:
        limit *= 10
    return limit


def _between(branch: QtiElement, wide: Fraction, lower: Fraction, upper: Fraction) -> None:
    every = add(branch, "qti-and")
    _not_null(every)
    # bounds are rounded inwards, so that no number outside them is let in
    for name, bound in (
        ("qti-gte", decimal_text(-wide)),
        ("qti-lte", decimal_text(wide)),
        ("qti-gte", decimal_text(lower, "up")),
        ("qti-lte", decimal_text(upper, "down")),
    ):
        comparison = add(every, name)
        _variable(comparison)
        add(comparison, "qti-base-value", {"base-type": "float"}, bound)


def _branch(condition: QtiElement, kind: str) -> QtiElement:
    return add(condition, f"qti-response-{kind}")


def _variable(parent: QtiElement) -> None:
    add(parent, "qti-variable", {"identifier": RESPONSE})


def _not_null(parent: QtiElement) -> None:
    _variable(add(add(parent, "qti-not"), "qti-is-null"))


def _score(marks: int) -> _Setting:
    return SCORE, "float", str(marks)


def _feedback(value: str) -> _Setting:
    return FEEDBACK, "identifier", value


def _solution() -> _Setting:
    return SOLUTION, "identifier", SHOWN


def _set(branch: QtiElement, *settings: _Setting) -> None:
    for outcome, base_type, literal in settings:
        target = add(branch, "qti-set-outcome-value", {"identifier": outcome})
        add(target, "qti-base-value", {"base-type": base_type}, literal)
