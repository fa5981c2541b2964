"""The real zeros of a polynomial with rational coefficients, each in closed form: rational numbers and square roots."""

from __future__ import annotations

from fractions import Fraction
from math import lcm
from typing import Any

from flint import fmpz_poly

from qbank.maths.decimals import bounds
from qbank.maths.expression import Expression, Integer, Quotient, difference, rational, sum_of
from qbank.maths.polynomial_factors import factorise
from qbank.maths.surds import Surd, square_root

__all__ = ["polynomial_zeros"]


def polynomial_zeros(
    coefficients: tuple[Fraction, ...], within: tuple[Fraction, Fraction] | None
) -> tuple[Expression, ...] | None:
    """The real zeros, in no special order; a double one may stand once.

    Args:
        coefficients: lowest first, the last one not zero.
        within: an interval beyond which nothing is wanted; None for the real line.

    Returns:
        All of them; None when one that is wanted belongs to a factor of degree 3 or more, or has very large numbers.

    >>> [zero] = polynomial_zeros((Fraction(-8), Fraction(0), Fraction(0), Fraction(1)), None)
    >>> zero
    Integer(value=2)
    >>> polynomial_zeros((Fraction(-2), Fraction(0), Fraction(0), Fraction(1)), None) is None
    True
    """
    found: list[Expression] = []
    for factor, _ in factorise(coefficients)[1]:
        if len(factor) == 2:
            found.append(rational(Fraction(-factor[0], factor[1])))
        elif len(factor) == 3:
            zeros = _of_quadratic(*factor)
            if zeros is None:
                return None
            found += zeros
        elif _has_real_zero(factor, within):
            return None
    return tuple(found)


def _of_quadratic(c: int, b: int, a: int) -> list[Expression] | None:
    """The zeros of `ax^2 + bx + c` with a positive a, whose discriminant is no square; None for very large numbers."""
    discriminant = b * b - 4 * a * c
    surd = square_root(max(discriminant, 0))
    if discriminant < 0:
        return []
    if surd is None:
        return None
    middle, size = Fraction(-b, 2 * a), surd.rational / (2 * a)
    if not middle:
        root = Surd(size, surd.radicand).tree()
        return [-root, root]
    # both terms above one fraction line
    below = lcm(middle.denominator, size.denominator)
    over, term = rational(middle * below), Surd(size * below, surd.radicand).tree()
    tops = difference(over, term), sum_of(over, term)
    return [top if below == 1 else Quotient(top, Integer(below)) for top in tops]


def _has_real_zero(factor: tuple[int, ...], within: tuple[Fraction, Fraction] | None) -> bool:
    """Whether a factor has a real zero that is wanted; one that cannot be told from wanted ones counts."""
    found: Any = fmpz_poly(list(factor)).complex_roots()  # the published types know no pairs
    for zero, _ in found:
        if not zero.imag.contains(0):
            continue
        low, high = bounds(zero.real)
        if within is None or not (high < within[0] or low > within[1]):
            return True
    return False
