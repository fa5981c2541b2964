"""The exact value of a parameter expression: rational arithmetic on a tree, with a bound on size."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import prod

from qbank.maths.expression import (
    Apply,
    Decimal,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    rational,
)
from qbank.maths.tidying import tidy

__all__ = ["NotRationalError", "evaluate"]

_BIT_LIMIT = 4096


class NotRationalError(ValueError):
    """An expression of parameters has no rational value at this draw (a division by zero, the root of 2, ...)."""


def evaluate(tree: Expression, values: Mapping[str, Fraction]) -> Fraction:
    """The rational value of a tree whose letters all have rational values.

    Args:
        tree: built from numbers, letters, + - * /, whole powers, exact square roots and modulus signs.
        values: the letters' values.

    Raises:
        NotRationalError: the value is not rational, or the tree holds something else.

    >>> evaluate(Symbol("a") ** 2 / 3, {"a": Fraction(2)})
    Fraction(4, 3)
    """
    match tree:
        case Integer(value):
            return Fraction(value)
        case Decimal():
            return tree.value
        case Symbol(name) if name in values:
            return values[name]
        case Negate(operand):
            return -evaluate(operand, values)
        case Sum(terms):
            return sum((evaluate(term, values) for term in terms), Fraction(0))
        case Product(factors):
            return prod((evaluate(factor, values) for factor in factors), start=Fraction(1))
        case Quotient(numerator, denominator):
            under = evaluate(denominator, values)
            if not under:
                raise NotRationalError("division by zero")
            return evaluate(numerator, values) / under
        case Power(base, exponent):
            return _power(evaluate(base, values), evaluate(exponent, values))
        case Root(radicand, 2):
            return _root(evaluate(radicand, values))
        case Apply("abs", argument):
            return abs(evaluate(argument, values))
        case _:
            raise NotRationalError(
                "only whole-number arithmetic, fractions, powers, roots and |...| are allowed here"
            )


def _power(base: Fraction, exponent: Fraction) -> Fraction:
    if exponent.denominator != 1 or (not base and exponent < 0):
        raise NotRationalError("a power without a rational value")
    bits = max(base.numerator.bit_length(), base.denominator.bit_length())
    if bits * abs(exponent) > _BIT_LIMIT:
        raise NotRationalError("a power that is too large")
    return base ** int(exponent)


def _root(number: Fraction) -> Fraction:
    root = as_fraction(tidy(Root(rational(number)))) if number >= 0 else None
    if root is None:
        raise NotRationalError("the square root is not rational")
    return root
