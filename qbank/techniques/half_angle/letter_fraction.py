"""Quotients of polynomials in one letter, kept in lowest terms, and written as a teacher writes them.

(2t^2 + 2)/(t^4 - 1)  =  2/(t^2 - 1)
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm
from typing import TypeAlias

from qbank.maths.expression import Expression, Integer, Quotient, Symbol, product
from qbank.maths.factors import power_tree
from qbank.maths.polynomial import added, divided_by, multiplied, polynomial_tree
from qbank.maths.polynomial_factors import factorise

__all__ = ["ONE", "ZERO", "LetterFraction", "TooLargeError", "polynomial"]

Coefficients: TypeAlias = tuple[Fraction, ...]

#: polynomials of a higher degree are nobody's exercise
_DEGREE_LIMIT = 32


class TooLargeError(Exception):
    """A polynomial has grown beyond what anybody sets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterFraction:
    """`over / under` in lowest terms, coefficients lowest first, the last one below being 1.

    Attributes:
        over: the numerator, empty for 0.
        under: the denominator.
    """

    over: Coefficients
    under: Coefficients

    @property
    def is_polynomial(self) -> bool:
        """Whether nothing stands below the line."""
        return len(self.under) == 1

    @property
    def size(self) -> int:
        """Both degrees together: how long it is."""
        return len(self.over) + len(self.under)

    def plus(self, other: LetterFraction) -> LetterFraction:
        """The sum."""
        if not (self.over and other.over):
            return self if self.over else other
        if self.is_polynomial and other.is_polynomial:
            return LetterFraction(over=added(self.over, other.over), under=self.under)
        over = added(multiplied(self.over, other.under), multiplied(other.over, self.under))
        return _in_lowest_terms(over, multiplied(self.under, other.under))

    def times(self, other: LetterFraction) -> LetterFraction:
        """The product."""
        if self.is_polynomial and other.is_polynomial and len(self.over) + len(other.over) < _DEGREE_LIMIT:
            return LetterFraction(over=multiplied(self.over, other.over), under=self.under)
        return _in_lowest_terms(multiplied(self.over, other.over), multiplied(self.under, other.under))

    def inverse(self) -> LetterFraction:
        """One over it.

        Raises:
            ZeroDivisionError: it is 0.
        """
        if not self.over:
            raise ZeroDivisionError
        return _in_lowest_terms(self.under, self.over)

    def written(self, letter: Symbol) -> tuple[Fraction, Expression]:
        """The number in front, and the rest: a long denominator as a product of its factors.

        >>> square = polynomial(1, 0, 1)
        >>> half = polynomial(2).times(square.inverse())
        >>> half.written(Symbol("t"))[0]
        Fraction(2, 1)
        """
        if not self.over:
            return Fraction(0), Integer(1)
        above, below = _content(self.over), _content(self.under)
        over = polynomial_tree(tuple(c / above for c in self.over), letter)
        under = self._below(letter) if len(self.under) > 3 else polynomial_tree(_whole(self.under), letter)
        return above / below, over if under == Integer(1) else Quotient(over, under)

    def _below(self, letter: Symbol) -> Expression:
        _, factors = factorise(self.under)
        return product(*(power_tree(polynomial_tree(f, letter), Fraction(n)) for f, n in factors))


def polynomial(*coefficients: int | Fraction) -> LetterFraction:
    """A polynomial, lowest coefficient first.

    >>> polynomial(0, 2).over
    (Fraction(0, 1), Fraction(2, 1))
    """
    return _in_lowest_terms(added(tuple(map(Fraction, coefficients)), ()), (Fraction(1),))


def _in_lowest_terms(over: Coefficients, under: Coefficients) -> LetterFraction:
    if max(len(over), len(under)) > _DEGREE_LIMIT:
        raise TooLargeError
    first, second = under, over
    while second:
        first, second = second, divided_by(first, second)[1]
    over, under = divided_by(over, first)[0], divided_by(under, first)[0]
    return LetterFraction(over=tuple(c / under[-1] for c in over), under=tuple(c / under[-1] for c in under))


def _content(coefficients: Coefficients) -> Fraction:
    """The number that leaves whole coefficients without a common factor; its sign is that of the first one written."""
    below = lcm(*(c.denominator for c in coefficients))
    size = Fraction(gcd(*(int(c * below) for c in coefficients)), below)
    present = [c for c in coefficients if c]
    falls = present[-1] < 0 and not present[0] > 0
    return -size if falls else size


def _whole(coefficients: Coefficients) -> Coefficients:
    size = _content(coefficients)
    return tuple(c / size for c in coefficients)


ZERO = LetterFraction(over=(), under=(Fraction(1),))
ONE = polynomial(1)
