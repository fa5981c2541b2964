"""What students do with a reflection (common practice: from the marking of scripts, not from a published table)."""

from __future__ import annotations

from collections.abc import Iterator

from qbank.maths.expression import Expression, Integer, Integral, product, sum_of
from qbank.messages import say
from qbank.techniques.definites.leaf import ends
from qbank.techniques.definites.way import WaySlip, Wrong

__all__ = ["SLIPS", "TURNED_ROUND", "reflection_wrongs"]

_NOUGHT = Integer(0)


def reflection_wrongs(
    integral: Integral, factor: Expression, value: Expression, *, constant: bool
) -> Iterator[Wrong]:
    """What slips make of an integral that was added to its reflection.

    Args:
        integral: what was asked.
        factor: the number that the two forms add up to, or that stands in front of what is left.
        value: the right value.
        constant: whether nothing but the number is left.
    """
    lower, upper = ends(integral)
    yield _NOT_HALVED.leads_to(lambda: sum_of(value, value))
    yield _HALVED_TWICE.leads_to(lambda: value / 2)
    yield _SUBTRACTED.leads_to(lambda: _NOUGHT)
    if constant:
        yield _LENGTH_FORGOTTEN.leads_to(lambda: factor / 2)
        yield _UPPER_FOR_LENGTH.leads_to(lambda: product(factor, upper) / 2)
        yield _ENDS_ADDED.leads_to(lambda: product(factor, sum_of(lower, upper)) / 2)
    else:
        yield _FACTOR_FORGOTTEN.leads_to(lambda: value / factor)
        yield _FACTOR_AND_HALF_FORGOTTEN.leads_to(lambda: sum_of(value, value) / factor)


_NOT_HALVED = WaySlip(
    identifier="reflection-not-halved",
    sentence=say("Adding the two forms gives twice the integral: halve it at the end."),
)
_HALVED_TWICE = WaySlip(
    identifier="reflection-halved-twice",
    sentence=say("Adding the two forms gives twice the integral, not four times: halve once."),
)
_SUBTRACTED = WaySlip(
    identifier="reflected-form-subtracted",
    sentence=say("Both forms have the same value, so that subtracting them says nothing: add them."),
)
_LENGTH_FORGOTTEN = WaySlip(
    identifier="interval-length-forgotten",
    sentence=say("The integral of a constant is the constant times the length of the interval."),
)
_UPPER_FOR_LENGTH = WaySlip(
    identifier="upper-limit-for-interval-length",
    sentence=say("The length of the interval is the upper limit less the lower one."),
)
_ENDS_ADDED = WaySlip(
    identifier="limits-added-for-interval-length",
    sentence=say("The limits are added in the reflection; the length of the interval is their difference."),
)
_FACTOR_FORGOTTEN = WaySlip(
    identifier="number-from-the-reflection-forgotten",
    sentence=say("Adding the two forms leaves a number in front of the integral: keep it."),
)
_FACTOR_AND_HALF_FORGOTTEN = WaySlip(
    identifier="linear-factor-left-out",
    sentence=say("A factor that varies cannot be left out: let the reflection turn it into a number."),
)

TURNED_ROUND = WaySlip(
    identifier="reflection-turns-the-sign",
    sentence=say(
        "The limits change places and so does the sign of the differential: together nothing changes."
    ),
)

SLIPS = (
    _NOT_HALVED,
    _HALVED_TWICE,
    _SUBTRACTED,
    _LENGTH_FORGOTTEN,
    _UPPER_FOR_LENGTH,
    _ENDS_ADDED,
    _FACTOR_FORGOTTEN,
    _FACTOR_AND_HALF_FORGOTTEN,
    TURNED_ROUND,
)
