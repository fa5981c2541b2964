"""Quotients of polynomials in one letter, kept in lowest terms, and written as a teacher writes them.

(2t^2 + 2)/(t^4 - 1)  =  2/(t^2 - 1)
"""

from __future__ import annotations

from fractions import Fraction
from math import gcd, lcm
from typing import Any, TypeAlias

from flint import fmpq, fmpq_poly

from qbank.maths.expression import Expression, Integer, Quotient, Symbol, fraction, product
from qbank.maths.factors import power_tree
from qbank.maths.frozen import frozen
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.polynomial_factors import factorise

__all__ = ["ONE", "ZERO", "LetterFraction", "TooLargeError", "fraction_of", "polynomial"]

Coefficients: TypeAlias = tuple[Fraction, ...]
Polynomial: TypeAlias = Any  # fmpq_poly: python-flint carries no types

#: polynomials of a higher degree are nobody's exercise
_DEGREE_LIMIT = 32


class TooLargeError(Exception):
    """A polynomial has grown beyond what anybody sets."""


@frozen(eq=False)
class LetterFraction:
    """A numerator and a denominator in lowest terms, the last coefficient below being 1.

    Attributes:
        above: the numerator.
        below: the denominator.
    """

    above: Polynomial
    below: Polynomial

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, LetterFraction):
            return NotImplemented
        return bool(self.above == other.above and self.below == other.below)

    def __hash__(self) -> int:
        # of whole numbers: the hash of a rational number is dear
        return hash((*map(int, self.above.numer().coeffs()), None, *map(int, self.below.numer().coeffs())))

    @property
    def over(self) -> Coefficients:
        """The coefficients of the numerator, lowest first; none for 0."""
        return _fractions(self.above)

    @property
    def under(self) -> Coefficients:
        """The coefficients of the denominator."""
        return _fractions(self.below)

    @property
    def is_polynomial(self) -> bool:
        """Whether nothing stands below the line."""
        return bool(self.below.degree() == 0)

    @property
    def size(self) -> int:
        """Both degrees together: how long it is."""
        return int(self.above.degree() + self.below.degree()) + 2

    def plus(self, other: LetterFraction) -> LetterFraction:
        """The sum."""
        over = self.above * other.below + other.above * self.below
        return _in_lowest_terms(over, self.below * other.below)

    def times(self, other: LetterFraction) -> LetterFraction:
        """The product."""
        return _in_lowest_terms(self.above * other.above, self.below * other.below)

    def inverse(self) -> LetterFraction:
        """One over it.

        Raises:
            ZeroDivisionError: it is 0.
        """
        if not self.above:
            raise ZeroDivisionError
        return _in_lowest_terms(self.below, self.above)

    def written(self, letter: Symbol) -> tuple[Fraction, Expression]:
        """The number in front, and the rest: a long denominator as a product of its factors.

        >>> square = polynomial(1, 0, 1)
        >>> half = polynomial(2).times(square.inverse())
        >>> half.written(Symbol("t"))[0]
        Fraction(2, 1)
        """
        if not self.above:
            return fraction(0, 1), Integer(1)
        top, bottom = self.over, self.under
        above, below = _content(top), _content(bottom)
        over = polynomial_tree(tuple(c / above for c in top), letter)
        under = self._below(letter) if len(bottom) > 3 else polynomial_tree(_whole(bottom), letter)
        return above / below, over if under == Integer(1) else Quotient(over, under)

    def _below(self, letter: Symbol) -> Expression:
        _, factors = factorise(self.under)
        return product(*(power_tree(polynomial_tree(f, letter), Fraction(n)) for f, n in factors))


def fraction_of(over: Coefficients, under: Coefficients) -> LetterFraction:
    """A fraction by its coefficients, lowest first.

    >>> fraction_of((Fraction(2), Fraction(2)), (Fraction(-1), Fraction(0), Fraction(1))).under
    (Fraction(-1, 1), Fraction(1, 1))
    """
    return _in_lowest_terms(_polynomial(over), _polynomial(under))


def polynomial(*coefficients: int | Fraction) -> LetterFraction:
    """A polynomial, lowest coefficient first.

    >>> polynomial(0, 2).over
    (Fraction(0, 1), Fraction(2, 1))
    """
    return fraction_of(tuple(fraction(c, 1) for c in coefficients), (fraction(1, 1),))


def _polynomial(coefficients: Coefficients) -> Polynomial:
    return fmpq_poly([fmpq(c.numerator, c.denominator) for c in coefficients])


def _fractions(one: Polynomial) -> Coefficients:
    return tuple(fraction(int(c.p), int(c.q)) for c in one.coeffs())


def _in_lowest_terms(over: Polynomial, under: Polynomial) -> LetterFraction:
    if max(over.degree(), under.degree()) >= _DEGREE_LIMIT:
        raise TooLargeError
    if under.degree() > 0:
        common = over.gcd(under)
        over, under = over // common, under // common
    last = under[under.degree()]
    return LetterFraction(over / last, under / last)


def _content(coefficients: Coefficients) -> Fraction:
    """The number that leaves whole coefficients without a common factor; its sign is that of the first one written."""
    below = lcm(*(c.denominator for c in coefficients))
    size = fraction(gcd(*(int(c * below) for c in coefficients)), below)
    present = [c for c in coefficients if c]
    falls = present[-1] < 0 and not present[0] > 0
    return -size if falls else size


def _whole(coefficients: Coefficients) -> Coefficients:
    size = _content(coefficients)
    return tuple(c / size for c in coefficients)


ZERO = polynomial()
ONE = polynomial(1)
