"""Rigorous values: an expression, or its derivative, at rational points to as many digits as are asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from qbank.maths.balls import Balls, precision, to_ball
from qbank.maths.clock import QUICK
from qbank.maths.decimals import bounds, decimal_text, is_moderate
from qbank.maths.exact.normal_form import in_exact_system
from qbank.maths.expression import Expression, Symbol, fraction, rational
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled, Undefined
from qbank.maths.points import Side, slope_side, value_side

__all__ = ["Enclosure", "derivative_at", "enclose"]

#: bits beyond what the digits need, tried in turn
SPARE_BITS = (16, 80, 300, 1000)

#: a value is asked for with respect to no letter
NO_VARIABLE = Symbol("")

_NOTHING: Mapping[Symbol, Expression] = {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Enclosure:
    """A real number between two rational bounds.

    Attributes:
        decimal: the number correctly rounded to the digits asked for; trailing zeros are dropped.
        lower: a number not above it.
        upper: a number not below it.
    """

    decimal: str
    lower: Fraction
    upper: Fraction


def enclose(expression: Expression, *, at: Mapping[Symbol, Fraction], digits: int = 17) -> Enclosure | None:
    """The value of an expression.

    Args:
        expression: the expression.
        at: a value for each letter.
        digits: how many significant digits of `decimal` are wanted.

    Returns:
        The enclosure; None when there is no real value, or none can be told (a letter without a value, a zero that is
        not seen to be one, a number of more than ten thousand digits).

    >>> from qbank.maths.expression import PI, Symbol, ln, sqrt
    >>> x = Symbol("x")
    >>> enclose(sqrt(x), at={x: Fraction(2)}, digits=20).decimal
    '1.4142135623730950488'
    >>> enclose(ln(x), at={x: Fraction(-2)}) is None
    True
    """
    return _enclose(value_side(expression), NO_VARIABLE, at, digits)


def derivative_at(
    expression: Expression, variable: Symbol, at: Mapping[Symbol, Fraction], digits: int = 17
) -> Enclosure | None:
    """The derivative of an expression at a point.

    Args:
        expression: the expression.
        variable: the letter to differentiate by.
        at: a value for each letter, the variable too.
        digits: how many significant digits of `decimal` are wanted.

    Returns:
        The enclosure; None when the expression or its derivative has no real value, or none can be told, as where a
        letter has no value.

    >>> from qbank.maths.expression import Symbol, sin
    >>> x = Symbol("x")
    >>> derivative_at(sin(x) ** 2, x, {x: Fraction(1)}, digits=10).decimal
    '0.9092974268'
    """
    return _enclose(slope_side(expression), variable, at, digits)


def _enclose(side: Side, variable: Symbol, at: Mapping[Symbol, Fraction], digits: int) -> Enclosure | None:
    ends: tuple[Fraction, Fraction] | None = None
    for spare in SPARE_BITS:
        with precision(digits * 10 // 3 + spare):
            ball = _ball(side, variable, at)
            if ball is None:
                continue
            ends = bounds(ball)
        text = decimal_text(*ends, digits)
        if text is not None:
            return Enclosure(decimal=text, lower=ends[0], upper=ends[1])
    if ends is None:
        return None
    if ends[0] <= 0 <= ends[1]:
        return _zero(side, variable, at)
    # the number lies on a boundary of rounding as far as 1000 more bits can see: either neighbour is as near
    middle = (ends[0] + ends[1]) / 2
    return Enclosure(decimal=str(decimal_text(middle, middle, digits)), lower=ends[0], upper=ends[1])


def _zero(side: Side, variable: Symbol, at: Mapping[Symbol, Fraction]) -> Enclosure | None:
    """Zero, when the exact system shows that the side is zero.

    The letters become numbers first, but not the variable of a derivative: that is seen to be zero only when it
    is so everywhere.
    """
    places: dict[Symbol, Expression] = {
        letter: rational(value) for letter, value in at.items() if letter != variable
    }
    try:
        # what is enclosed may be what a student typed
        is_zero = in_exact_system(lambda walk: bool(side(walk).is_zero()), variable, places, seconds=QUICK)
    except (Undefined, NotSettled):
        return None
    return Enclosure(decimal="0", lower=fraction(0, 1), upper=fraction(0, 1)) if is_zero else None


def _ball(side: Side, variable: Symbol, at: Mapping[Symbol, Fraction]) -> Any:
    """The ball of a side at the working precision; None when it is not bounded, or is too large to write out."""
    walk = Walk(Balls({letter.name: to_ball(value) for letter, value in at.items()}), variable, _NOTHING)
    try:
        ball = side(walk)
    except (Undefined, NotSettled):
        return None
    return ball if ball.is_finite() and is_moderate(ball) else None
