"""Surds: a rational number times the square root of a whole number, exactly and as a teacher writes it.

sqrt(12)  =  2 sqrt 3          the root is taken as far as it goes
1/sqrt(3)                      stays below the line (not sqrt(3)/3), as in 1/a arctan(x/a)
2/sqrt(6) =  sqrt(6)/3         is moved up, since the number above cancels
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd, isqrt

from qbank.maths.expression import (
    Expression,
    Integer,
    Negate,
    Quotient,
    Root,
    fraction,
    product,
)
from qbank.maths.factors import Factored, factored

__all__ = ["Surd", "square_root", "with_one_root"]

#: larger numbers are nobody's exercise; below it, trial division up to the cube root leaves two primes at most
_SIZE_LIMIT = 10**12
_TRIAL_LIMIT = 10**4


@dataclass(frozen=True, slots=True)
class Surd:
    """`rational * sqrt(radicand)`, the radicand a positive whole number without square factors.

    Attributes:
        rational: the rational factor.
        radicand: 1 for a rational number.
    """

    rational: Fraction
    radicand: int = 1

    @property
    def square(self) -> Fraction:
        """The square, a rational number."""
        return self.rational**2 * self.radicand

    def times(self, other: Fraction | int | Surd) -> Surd:
        """The product with a number or another surd.

        >>> Surd(Fraction(1), 6).times(Surd(Fraction(1), 2))
        Surd(rational=Fraction(2, 1), radicand=3)
        """
        if not isinstance(other, Surd):
            return Surd(self.rational * other, self.radicand)
        common = gcd(self.radicand, other.radicand)
        inside = (self.radicand // common) * (other.radicand // common)
        return Surd(self.rational * other.rational * common, inside)

    def reciprocal(self) -> Surd:
        """One over it.

        >>> Surd(Fraction(1, 2), 3).reciprocal()
        Surd(rational=Fraction(2, 3), radicand=3)
        """
        return Surd(1 / (self.rational * self.radicand), self.radicand)

    def to_the(self, exponent: int) -> Surd:
        """A whole power.

        >>> Surd(Fraction(1), 5).to_the(-3)
        Surd(rational=Fraction(1, 25), radicand=5)
        """
        base = self if exponent >= 0 else self.reciprocal()
        found = Surd(fraction(1, 1))
        for _ in range(abs(exponent)):
            found = found.times(base)
        return found

    def factor(self) -> Factored:
        """The number as a constant factor, its root above or below the fraction line as in `sides`.

        >>> Surd(Fraction(2, 3), 3).factor().tree() == Surd(Fraction(2, 3), 3).tree()
        True
        """
        if self.radicand == 1:
            return Factored(coefficient=self.rational, powers=())
        below = self.rational.denominator % self.radicand == 0
        rational = self.rational * self.radicand if below else self.rational
        power = Fraction(-1 if below else 1, 2)
        return Factored(coefficient=rational, powers=((Integer(self.radicand), power),))

    def sides(self) -> tuple[Expression, Expression]:
        """What is written above and below the fraction line for its size; below is 1 when there is no line.

        >>> Surd(Fraction(2, 3), 3).sides()
        (Integer(value=2), Root(radicand=Integer(value=3), index=2))
        """
        above, below = abs(self.rational.numerator), self.rational.denominator
        if self.radicand > 1 and below % self.radicand == 0:
            return Integer(above), _with_root(below // self.radicand, self.radicand)
        return _with_root(above, self.radicand), Integer(below)

    def tree(self) -> Expression:
        """The number as it is written."""
        return self.in_front_of(Integer(1))

    def in_front_of(self, body: Expression) -> Expression:
        """The number written in front of something: `2/sqrt(3) arctan(x)`, `-sqrt(3) x`, no factor 1.

        >>> from qbank.maths.expression import Symbol
        >>> Surd(Fraction(-1)).in_front_of(Symbol("x"))
        Negate(operand=Symbol(name='x'))
        """
        if not self.rational:
            return Integer(0)
        above, below = self.sides()
        size = above if below == Integer(1) else Quotient(above, below)
        whole = size if body == Integer(1) else body if size == Integer(1) else product(size, body)
        return Negate(whole) if self.rational < 0 else whole


def square_root(value: Fraction | int) -> Surd | None:
    """The square root of a rational number that is not negative; None when its numbers are too large.

    >>> square_root(Fraction(3, 4))
    Surd(rational=Fraction(1, 2), radicand=3)
    """
    value = fraction(value, 1)
    inside = value.numerator * value.denominator
    if value < 0 or inside > _SIZE_LIMIT:
        return None
    outside, kept, divisor = 1, 1, 2
    while divisor <= _TRIAL_LIMIT and divisor * divisor <= inside:
        times = 0
        while inside % divisor == 0:
            inside, times = inside // divisor, times + 1
        outside, kept = outside * divisor ** (times // 2), kept * divisor ** (times % 2)
        divisor += 1
    # what is left has at most two prime factors, or is a prime below the square of the last divisor
    root = isqrt(inside)
    outside, kept = (outside * root, kept) if root * root == inside else (outside, kept * inside)
    return Surd(Fraction(outside, value.denominator), kept) if value else Surd(fraction(0, 1))


def with_one_root(term: Expression) -> Expression:
    """A term with its numbers and square roots of numbers in front joined to one surd.

    >>> from qbank.maths.expression import Symbol
    >>> with_one_root(product(Integer(8), 1 / Root(Integer(2)), Symbol("x")))
    Product(factors=(Integer(value=4), Root(radicand=Integer(value=2), index=2), Symbol(name='x')))
    """
    seen = factored(term)
    number, kept = Surd(seen.coefficient), []
    for base, exponent in seen.powers:
        if isinstance(base, Integer) and base.value > 0 and exponent.denominator == 2:
            root = square_root(base.value)
            if root is not None:
                number = number.times(root.to_the(int(2 * exponent)))
                continue
        kept.append((base, exponent))
    return number.in_front_of(Factored(coefficient=fraction(1, 1), powers=tuple(kept)).tree())


def _with_root(number: int, radicand: int) -> Expression:
    if radicand == 1:
        return Integer(number)
    root = Root(Integer(radicand))
    return root if number == 1 else product(Integer(number), root)
