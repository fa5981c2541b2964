"""Quotients of polynomials over the rational numbers that are never brought to lowest terms, in one fixed ring.

Every operation holds at each point where its operands have values. What would grow too large is refused (`NotSettled`).
"""

from __future__ import annotations

from functools import lru_cache
from math import comb
from typing import Any

from flint import Ordering, fmpq, fmpq_mpoly_ctx

from qbank.maths.number_system import NotSettled

__all__ = ["GENERATOR", "GENERATORS", "ONE", "Polynomial", "Quotient", "number", "power", "product_of"]

Polynomial = Any  # fmpq_mpoly: python-flint carries no types

GENERATORS = 8
#: bounds: terms of a product or power before like ones are brought together; degree; bits of the power of a number
MOST_TERMS = 400
MOST_DEGREE = 100
MOST_BITS = 2000

RING = fmpq_mpoly_ctx.get([f"g{place}" for place in range(GENERATORS)], Ordering.lex)


class Quotient:
    """A quotient of two polynomials; without a denominator `den` is None."""

    __slots__ = ("den", "num")

    def __init__(self, num: Polynomial, den: Polynomial | None = None) -> None:
        self.num = num
        self.den = den

    def __neg__(self) -> Quotient:
        return Quotient(-self.num, self.den)

    def __add__(self, other: Quotient | int) -> Quotient:
        if isinstance(other, int):
            return self + number(other, 1)
        a, b = self.den, other.den
        if a is b or a == b:
            return Quotient(self.num + other.num, a)
        if a is None:
            return Quotient(product_of(self.num, b) + other.num, b)
        if b is None:
            return Quotient(self.num + product_of(other.num, a), a)
        return Quotient(product_of(self.num, b) + product_of(other.num, a), product_of(a, b))

    __radd__ = __add__

    def __sub__(self, other: Quotient | int) -> Quotient:
        return self + -other

    def __rsub__(self, other: int) -> Quotient:
        return -self + other

    def __mul__(self, other: Quotient | int) -> Quotient:
        if isinstance(other, int):
            return Quotient(self.num * other, self.den)
        if self is ONE:
            return other
        if other is ONE:
            return self
        a, b = self.den, other.den
        den = b if a is None else a if b is None else product_of(a, b)
        return Quotient(product_of(self.num, other.num), den)

    __rmul__ = __mul__

    def inverse(self) -> Quotient:
        """One over it."""
        if not self.num:
            raise NotSettled("a division by zero")
        return Quotient(ONE.num if self.den is None else self.den, self.num)

    def __truediv__(self, other: Quotient | int) -> Quotient:
        return self * (number(1, other) if isinstance(other, int) else other.inverse())

    def __rtruediv__(self, other: int) -> Quotient:
        return self.inverse() if other == 1 else self.inverse() * other


def product_of(left: Polynomial, right: Polynomial, most: int = MOST_TERMS) -> Polynomial:
    """The product of two polynomials, refused when it may have more terms than `most`."""
    if len(left) * len(right) > most:
        raise NotSettled("the expanded form grows too large")
    return left * right


@lru_cache(maxsize=512)
def number(over: int, under: int) -> Quotient:
    """A rational number, the same object for the same number."""
    if not under:
        raise NotSettled("a division by zero")
    return Quotient(RING.constant(fmpq(over, under)))


ONE = number(1, 1)
GENERATOR = tuple(Quotient(RING.gen(place)) for place in range(GENERATORS))


def power(base: Quotient, exponent: int) -> Quotient:
    """A whole power."""
    if exponent == 1:
        return base
    if exponent <= 0:
        return power(base.inverse(), -exponent) if exponent else ONE
    num, den = base.num, base.den
    return Quotient(_whole_power(num, exponent), None if den is None else _whole_power(den, exponent))


def _whole_power(base: Polynomial, exponent: int) -> Polynomial:
    terms, degree = len(base), base.total_degree()
    if exponent * max(1, degree) > MOST_DEGREE or comb(exponent + terms - 1, exponent) > MOST_TERMS:
        raise NotSettled("a power is too large to expand")
    if not degree and exponent * base.leading_coefficient().height_bits() > MOST_BITS:
        raise NotSettled("a power of a number with many digits")
    return base**exponent
