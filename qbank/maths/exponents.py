"""Exponents that are plain arithmetic: `3/2`, `-1`, `1/2 + 1`, folded to one fraction of bounded size."""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.expression import (
    Decimal,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Sum,
    fraction,
)

__all__ = ["exponent_value", "rational_value"]

#: an exponent, or a number inside one, has at most this many bits
EXPONENT_BITS = 64


def exponent_value(node: Expression) -> Fraction | int | None:
    """The value of an exponent of arithmetic, else None: like `rational_value`, but found at once for a whole number.

    >>> exponent_value(Integer(3))
    3
    """
    if isinstance(node, Integer) and node.value.bit_length() <= EXPONENT_BITS:
        return node.value
    return rational_value(node)


def rational_value(node: Expression) -> Fraction | None:
    """The value of an arithmetic expression of small numbers (an exponent), else None.

    >>> from qbank.maths.expression import rational
    >>> rational_value(rational(1, 2) + 1)
    Fraction(3, 2)
    """
    value: Fraction | None
    match node:
        case Integer(number):
            value = fraction(number, 1)
        case Decimal():
            value = node.value
        case Negate(operand):
            inner = rational_value(operand)
            value = None if inner is None else -inner
        case Quotient(numerator, denominator):
            over, under = rational_value(numerator), rational_value(denominator)
            value = None if over is None or not under else over / under
        case Sum(parts) | Product(parts):
            value = rational_value(parts[0])
            for part in parts[1:]:
                other = rational_value(part)
                if value is None or other is None:
                    return None
                value = value + other if isinstance(node, Sum) else value * other
        case Power(base, exponent):
            value = _small_power(rational_value(base), rational_value(exponent))
        case _:
            return None
    if (
        value is not None
        and value.numerator.bit_length() + value.denominator.bit_length() > 2 * EXPONENT_BITS
    ):
        return None
    return value


def _small_power(base: Fraction | None, exponent: Fraction | None) -> Fraction | None:
    if base is None or exponent is None or exponent.denominator != 1 or not base:
        return None
    bits = max(base.numerator.bit_length(), base.denominator.bit_length())
    return base**exponent.numerator if bits * abs(exponent.numerator) <= EXPONENT_BITS else None
