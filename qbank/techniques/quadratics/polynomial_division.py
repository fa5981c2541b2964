"""Division of polynomials as a teacher sets it out, and cancelling of a common factor.

(2x^2 + 3x - 1)/(x^2 + 2x + 5)  =  2 - (x + 11)/(x^2 + 2x + 5)      whole part 2, left over a fraction
x/(x - x^3)                     =  1/(1 - x^2)                      the common factor x cancelled
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import gcd, lcm

from qbank.maths.polynomial import divided_by, polynomial_tree
from qbank.techniques.quadratics.over_quadratic import Coefficients, OverQuadratic

__all__ = ["cancelled", "divided"]


def divided(seen: OverQuadratic) -> tuple[Coefficients, OverQuadratic | None]:
    """The whole part, the number in front included, and the fraction that is left.

    Returns:
        The coefficients of the whole part (empty when the numerator is of lower degree), and the remaining fraction,
        its numerator written with whole coefficients; None when nothing is left.

    >>> from qbank.maths.expression import Symbol
    >>> from qbank.techniques.quadratics.over_quadratic import over_quadratic
    >>> x = Symbol("x")
    >>> whole, left = divided(over_quadratic((2 * x**2 + 4) / (x**2 + 1), x, Fraction(1)))
    >>> whole, left.front, left.over_tree
    ((Fraction(2, 1),), Fraction(2, 1), Integer(value=1))
    """
    if len(seen.over) < len(seen.under):
        return (), seen
    whole, left = divided_by(seen.over, seen.under)
    above = tuple(seen.front * c for c in whole)
    return above, _with_numerator(seen, left) if left else None


def cancelled(seen: OverQuadratic) -> OverQuadratic:
    """The same fraction with the common factor of numerator and denominator cancelled.

    >>> from qbank.maths.expression import Symbol
    >>> from qbank.techniques.quadratics.over_quadratic import over_quadratic
    >>> x = Symbol("x")
    >>> left = cancelled(over_quadratic(x**2 / (x - x**3), x, Fraction(1)))
    >>> left.front, left.over, left.under
    (Fraction(-1, 1), (Fraction(0, 1), Fraction(1, 1)), (Fraction(-1, 1), Fraction(0, 1), Fraction(1, 1)))
    """
    common, other = seen.over, seen.under
    while other:
        common, other = other, divided_by(common, other)[1]
    if len(common) < 2:
        return seen
    monic = tuple(c / common[-1] for c in common)
    size, under = _number_and_whole(divided_by(seen.under, monic)[0])
    left = replace(seen, front=seen.front / size, under=under, under_tree=polynomial_tree(under, seen.letter))
    return _with_numerator(left, divided_by(seen.over, monic)[0])


def _with_numerator(seen: OverQuadratic, over: Coefficients) -> OverQuadratic:
    """The fraction with another numerator; its number goes to the front, whole coefficients stay."""
    size, kept = _number_and_whole(over)
    return replace(seen, front=seen.front * size, over=kept, over_tree=polynomial_tree(kept, seen.letter))


def _number_and_whole(line: Coefficients) -> tuple[Fraction, Coefficients]:
    """A polynomial as a number times one with whole coefficients, without common factor, the last one positive."""
    below = lcm(*(c.denominator for c in line))
    above = gcd(*(int(c * below) for c in line))
    size = Fraction(above, below) * (1 if line[-1] > 0 else -1)
    return size, tuple(c / size for c in line)
