"""Exact fractions as decimal literals: exactly where that is short, else rounded to a stated side."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction
from typing import Literal

__all__ = ["decimal_text", "exact_text"]

Side = Literal["down", "up", "nearest"]

#: significant digits that name every binary64 number apart from its neighbours (IEEE 754-2019, 5.12.2)
_DIGITS = 17
_ROUNDING = {
    "down": Context(prec=_DIGITS, rounding=ROUND_FLOOR),
    "up": Context(prec=_DIGITS, rounding=ROUND_CEILING),
    "nearest": Context(prec=_DIGITS, rounding=ROUND_HALF_EVEN),
}


def exact_text(value: Fraction) -> str:
    """A fraction in lowest terms as text.

    >>> exact_text(Fraction(-3, 6))
    '-1/2'
    """
    return str(value)


def decimal_text(value: Fraction, side: Side = "nearest") -> str:
    """A decimal of at most 17 significant digits, without trailing zeros.

    Args:
        value: the exact value.
        side: where to round to when the value needs more digits.

    >>> decimal_text(Fraction(1, 8)), decimal_text(Fraction(2, 3), "down"), decimal_text(Fraction(-10**6))
    ('0.125', '0.66666666666666666', '-1000000')
    """
    quotient = _ROUNDING[side].divide(Decimal(value.numerator), Decimal(value.denominator))
    return _positional(quotient)


def _positional(number: Decimal) -> str:
    if number == 0:
        return "0"
    number = number.normalize(_ROUNDING["nearest"])
    # a number far from 1 keeps its exponent, which XML Schema's double and JSON both read
    if not -20 < number.adjusted() < 20:
        return str(number)
    return format(number, "f")
