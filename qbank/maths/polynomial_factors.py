"""A polynomial in one letter with rational coefficients as a number times powers of irreducible polynomials.

    2x^3 - 2x   ->   2, x, x - 1, x + 1
    x^4 + 4     ->   1, x^2 - 2x + 2, x^2 + 2x + 2

Each factor has whole coefficients without a common factor, the last one positive; coefficients stand lowest first.
"""

from __future__ import annotations

from fractions import Fraction
from math import lcm
from typing import TypeAlias

from flint import fmpz_poly

__all__ = ["PolynomialFactors", "factorise"]

#: the number, and each factor with its exponent
PolynomialFactors: TypeAlias = tuple[Fraction, tuple[tuple[tuple[int, ...], int], ...]]


def factorise(coefficients: tuple[Fraction, ...]) -> PolynomialFactors:
    """Take a polynomial that is not zero apart over the rational numbers.

    Args:
        coefficients: lowest first, the last one not zero.

    Returns:
        The number, and the factors with their exponents, ordered by degree and then by coefficients.

    >>> factorise((Fraction(0), Fraction(-2), Fraction(0), Fraction(2)))
    (Fraction(2, 1), (((-1, 1), 1), ((0, 1), 1), ((1, 1), 1)))
    """
    below = lcm(*(c.denominator for c in coefficients))
    number, found = fmpz_poly([int(c * below) for c in coefficients]).factor()
    factors = []
    front = Fraction(int(number), below)
    for factor, exponent in found:
        whole = tuple(int(c) for c in factor)
        sign = 1 if whole[-1] > 0 else -1
        front *= sign**exponent
        factors.append((tuple(sign * c for c in whole), int(exponent)))
    return front, tuple(sorted(factors, key=lambda pair: (len(pair[0]), pair[0])))
