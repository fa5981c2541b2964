"""The quotient f of polynomials for which k f + f' is a given one: then e^(kx) f is an antiderivative of e^(kx) (k f + f').

    x/(x + 1)^2    with k = 1    f = 1/(x + 1)
    1/x            with k = 1    none: the integral of e^x/x is no elementary function

A pole of order m of f is one of order m + 1 of f', so the denominator of f is that of the given quotient with every exponent
one lower, and the numerator is found from its highest power down. There is at most one f, and where there is none the integral
is not elementary (Liouville, as in Rosenlicht, Integration in finite terms, 1972; from memory).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from flint import fmpq_poly

from qbank.maths.expression import Symbol, fraction
from qbank.maths.factors import Factored
from qbank.maths.letter_fraction import LetterFraction, TooLargeError, polynomial
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.polynomial_factors import factorise

__all__ = ["as_letter_fraction", "factor_beside", "factored_fraction"]

#: a factor to a higher power is nobody's exercise
_POWER_LIMIT = 12


def as_letter_fraction(seen: Factored, variable: Symbol) -> LetterFraction | None:
    """A product of whole powers of polynomials in the variable as one fraction in lowest terms; else None.

    >>> from qbank.maths.factors import factored
    >>> x = Symbol("x")
    >>> as_letter_fraction(factored(x / (x + 1) ** 2), x).under
    (Fraction(1, 1), Fraction(2, 1), Fraction(1, 1))
    """
    whole = polynomial(seen.coefficient)
    try:
        for base, n in seen.powers:
            coefficients = as_polynomial(base, variable)
            if not coefficients or n.denominator != 1 or abs(n) > _POWER_LIMIT:
                return None
            one = polynomial(*coefficients)
            for _ in range(abs(int(n))):
                whole = whole.times(one if n > 0 else one.inverse())
    except TooLargeError:
        return None
    return whole


def factor_beside(given: LetterFraction, rate: Fraction) -> LetterFraction | None:
    """The f with `rate f + f' = given`, or None where no quotient of polynomials is.

    Args:
        given: a quotient of polynomials.
        rate: k, not 0.

    >>> x = Symbol("x")
    >>> one = polynomial(0, 1).times(polynomial(1, 2, 1).inverse())
    >>> found = factor_beside(one, Fraction(1))
    >>> found.over, found.under
    ((Fraction(1, 1),), (Fraction(1, 1), Fraction(1, 1)))
    """
    below = given.below.gcd(given.below.derivative())
    simple = given.below // below
    if below * simple != given.below or simple.gcd(below).degree() != simple.degree():
        return None
    slope_below = below.derivative() * simple // below
    rest, above = given.above, fmpq_poly()
    while rest and rest.degree() >= simple.degree():
        degree = rest.degree() - simple.degree()
        term = fmpq_poly([0] * degree + [rest[rest.degree()]]) / (simple[simple.degree()] * _number(rate))
        above += term
        rest -= term.derivative() * simple - term * slope_below + term * simple * _number(rate)
    return None if rest else LetterFraction(above, below)


def factored_fraction(one: LetterFraction, variable: Symbol) -> Factored:
    """A fraction with its denominator in factors: `1/(x + 1)^2`.

    >>> factored_fraction(polynomial(1, 2, 1).inverse(), Symbol("x")).tree() == 1 / (Symbol("x") + 1) ** 2
    True
    """
    if not one.over:
        return Factored(coefficient=fraction(0, 1), powers=())
    top, bottom = factorise(one.over)[0], factorise(one.under)
    above = tuple(c / top for c in one.over)
    powers = [(polynomial_tree(factor, variable), Fraction(-n)) for factor, n in bottom[1]]
    if above != (fraction(1, 1),):
        powers.insert(0, (polynomial_tree(above, variable), fraction(1, 1)))
    return Factored(coefficient=top / bottom[0], powers=tuple(powers))


def _number(value: Fraction) -> Any:
    return fmpq_poly([value.numerator]) / value.denominator
