"""The derivative of the inverse tangent of a fraction, simplified: `arctan(2x/(1 - x^2))' = 2/(1 + x^2)`.

    arctan(p/q)' = (p' q - p q')/(p^2 + q^2)      in lowest terms, the denominator in factors

The chain rule as it stands gives a fraction within a fraction.
"""

from __future__ import annotations

from qbank.maths.exponential_fraction import as_letter_fraction, factored_fraction
from qbank.maths.expression import Apply, Expression, Quotient, Symbol
from qbank.maths.factors import factored
from qbank.maths.letter_fraction import LetterFraction, TooLargeError, polynomial

__all__ = ["arctan_slope"]


def arctan_slope(tree: Expression, variable: Symbol) -> Expression | None:
    """The derivative of the inverse tangent or cotangent of a fraction of polynomials; None for anything else.

    >>> x = Symbol("x")
    >>> arctan_slope(Apply("arctan", 1 / x), x) == -1 / (x**2 + 1)
    True
    """
    match tree:
        case Apply("arctan" | "arccot" as name, Quotient() as argument) if (
            variable in argument.denominator.symbols()
        ):
            sign = 1 if name == "arctan" else -1
        case _:
            return None
    inside = as_letter_fraction(factored(argument), variable)
    if inside is None:
        return None
    p, q = inside.above, inside.below
    try:
        below = LetterFraction(p * p + q * q, polynomial(1).above)
        slope = LetterFraction((p.derivative() * q - p * q.derivative()) * sign, polynomial(1).above)
        return factored_fraction(slope.times(below.inverse()), variable).tree()
    except TooLargeError:
        return None
