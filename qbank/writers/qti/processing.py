"""Response processing: which response sets which outcome, from literals only.

Readers differ in what they make of a response that is no number, and a comparison with NULL may pass. So a number is
compared only after `not null`, and inside wide bounds that no reading of a malformed text has been seen to get past.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from functools import lru_cache
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
from qbank.writers.formulas import AS_MATHML
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.coefficients import add_coefficients_processing
from qbank.writers.qti.elements import QtiElement, add
from qbank.writers.qti.generation import Generation
from qbank.writers.qti.matching import add_matching_processing, misleading
from qbank.writers.qti.names import FEEDBACK, RESPONSE, SCORE, SOLUTION
from qbank.writers.qti.several import add_several_processing
from qbank.writers.qti.tasks import add_task_processing
from qbank.writers.refusal import RefusalError
from qbank.writers.tree import Markup, indented

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
    match item.response:
        case WorkingTask(questions=questions, gaps=gaps) if gaps or len(questions) > 1:
            processing = add(parent, "qti-response-processing")
            add_task_processing(processing, item.response, item.marks, SHOWN)
        case Choice() | WorkingTask():
            parent.parts.append(_alike(parent.generation, _choice, item.marks))
        case SeveralAnswers():
            parent.parts.append(_alike(parent.generation, add_several_processing, SHOWN))
        case Matching():
            shape = (slip_name(0), SHOWN, *misleading(item.response))
            parent.parts.append(_alike(parent.generation, add_matching_processing, *shape))
        case Numeric():
            _insist_on_not_0(item.identifier, item.response)
            alike = _alike(parent.generation, _numeric, len(item.response.slips), item.marks)
            text = alike.decode().format(*_bounds(item.response))
            parent.parts.append(Markup(text.encode()))
        case Coefficients():
            add_coefficients_processing(_condition(parent), item, item.response, SHOWN)
        case FreeExpression():
            parent.parts.append(_alike(parent.generation, _free_expression))
        case _:
            assert_never(item.response)


def _condition(parent: QtiElement) -> QtiElement:
    return add(add(parent, "qti-response-processing"), "qti-response-condition")


@lru_cache(maxsize=256)
def _alike(generation: Generation, fill: Callable[..., None], *shape: int | str) -> Markup:
    """Processing that is the same for many items, as it is written in each of them.

    Args:
        generation: the generation of QTI.
        fill: what appends the branches to a response condition.
        shape: its other arguments.
    """
    top = QtiElement(b"", b"", generation, AS_MATHML)
    fill(_condition(top), *shape)
    return Markup(indented(top.children[0], 1))


def _free_expression(condition: QtiElement) -> None:
    given = _branch(condition, "if")
    _not_null(given)
    _set(given, _solution())


def _choice(condition: QtiElement, marks: int) -> None:
    first = _branch(condition, "if")
    match = add(first, "qti-match")
    _variable(match)
    add(match, "qti-correct", {"identifier": RESPONSE})
    _set(first, _score(marks), _solution())
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


def _numeric(condition: QtiElement, slips: int, marks: int) -> None:
    """With gaps for the numbers that `_bounds` gives."""
    right = _branch(condition, "if")
    _between(right, 0)
    _set(right, _score(marks), _feedback("RIGHT"), _solution())
    for number in range(slips):
        branch = _branch(condition, "else-if")
        _between(branch, number + 1)
        _set(branch, _score(0), _feedback(slip_name(number)), _solution())
    other = _branch(condition, "else-if")
    _not_null(other)
    _set(other, _score(0), _feedback("WRONG"), _solution())
    _set(_branch(condition, "else"), _score(0), _feedback("UNREAD"))


def _between(branch: QtiElement, place: int) -> None:
    """The response lies within wide bounds, and within those at a place."""
    every = add(branch, "qti-and")
    _not_null(every)
    lower = 2 * place + 2
    for name, gap in (("qti-gte", 0), ("qti-lte", 1), ("qti-gte", lower), ("qti-lte", lower + 1)):
        comparison = add(every, name)
        _variable(comparison)
        add(comparison, "qti-base-value", {"base-type": "float"}, f"{{{gap}}}")


def _bounds(response: Numeric) -> Iterator[str]:
    """Bounds for any number, then those of the right one, then those of each slip."""
    pairs = [(response.lower, response.upper), *((slip.lower, slip.upper) for slip in response.slips)]
    wide = _wide(bound for pair in pairs for bound in pair)
    yield from (decimal_text(-wide), decimal_text(wide))
    for lower, upper in pairs:
        # rounded inwards, so that no number outside them is let in
        yield from (decimal_text(lower, "up"), decimal_text(upper, "down"))


def _wide(bounds: Iterable[Fraction]) -> Fraction:
    """A power of ten, at least a million, that is beyond all the bounds."""
    limit = 10**6
    for bound in bounds:
        while limit * bound.denominator <= abs(bound.numerator):
            limit *= 10
    return Fraction(limit)


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
