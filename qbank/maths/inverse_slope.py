"""The derivative of an inverse function of something longer, simplified, where the chain rule gives fractions within fractions.

    arctan(p/q)' = (p' q - p q')/(p^2 + q^2)      for polynomials: in lowest terms, the denominator in factors
    arctan(2x/(1 - x^2))' = 2/(1 + x^2)
    arctan((1 - cos x)/sin x)' = 1/2              a number, found by trying
    arctan(sqrt((1 - x)/(1 + x)))' = -1/(2 sqrt(1 - x^2))

What is tried is proved: the derivative of such a function is often a number times 1, 1/(1 + x^2) or 1/sqrt(1 - x^2), as the function
is half an angle or so in disguise.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import in_front, number
from qbank.maths.deciding import Enclosure, decide_antiderivative, derivative_at, enclose
from qbank.maths.exponential_fraction import as_letter_fraction, factored_fraction
from qbank.maths.expression import Apply, Expression, Integer, Quotient, Root, Symbol
from qbank.maths.factors import factored
from qbank.maths.functions import FUNCTIONS
from qbank.maths.letter_fraction import LetterFraction, TooLargeError, polynomial
from qbank.maths.polynomial import as_polynomial
from qbank.maths.verdict import Proved

__all__ = ["inverse_slope"]

#: what is tried
_FORMS: tuple[Callable[[Symbol], Expression], ...] = (
    lambda _: Integer(1),
    lambda x: Quotient(Integer(1), 1 + x**2),
    lambda x: Quotient(Integer(1), Root(1 - x**2)),
)
#: where the derivative is looked at, and the largest denominator of a number in front of it
_PLACES, _DENOMINATOR = (Fraction(13, 29), Fraction(5, 31)), 12


@lru_cache(maxsize=64)
def inverse_slope(tree: Expression, variable: Symbol) -> Expression | None:
    """The derivative of an inverse function, where it has a simpler form than the rules give; None for anything else.

    >>> x = Symbol("x")
    >>> inverse_slope(Apply("arctan", 1 / x), x) == -(1 / (x**2 + 1))
    True
    >>> inverse_slope(Apply("arctan", (1 - Apply("cos", x)) / Apply("sin", x)), x) == Quotient(Integer(1), Integer(2))
    True
    """
    if not isinstance(tree, Apply) or FUNCTIONS[tree.function].family != "inverse circular":
        return None
    argument = tree.argument
    if argument.symbols() != {variable} or as_polynomial(argument, variable) is not None:
        return None
    if tree.function in ("arctan", "arccot"):
        inside = as_letter_fraction(factored(argument), variable)
        if inside is not None:
            return _of_fraction(inside, 1 if tree.function == "arctan" else -1, variable)
    return _tried(tree, variable)


def _of_fraction(inside: LetterFraction, sign: int, variable: Symbol) -> Expression | None:
    p, q, one = inside.above, inside.below, polynomial(1).above
    try:
        slope = LetterFraction((p.derivative() * q - p * q.derivative()) * sign, one)
        whole = slope.times(LetterFraction(p * p + q * q, one).inverse())
    except TooLargeError:
        return None
    return factored_fraction(whole, variable).tree()


def _tried(tree: Expression, variable: Symbol) -> Expression | None:
    places = [{variable: place} for place in _PLACES]
    slopes = _middles(derivative_at(tree, variable, place) for place in places)
    for form in (make(variable) for make in _FORMS) if slopes else ():
        values = _middles(enclose(form, at=place) for place in places)
        sizes = {
            (one / value).limit_denominator(_DENOMINATOR) for one, value in zip(slopes, values, strict=True)
        }
        size = sizes.pop()
        slope = in_front(number(size), form)
        if size and not sizes and isinstance(decide_antiderivative(tree, slope, variable), Proved):
            return slope
    return None


def _middles(found: Iterable[Enclosure | None]) -> list[Fraction]:
    """The middles of enclosures; none at all when one is missing."""
    known = list(found)
    return [(one.lower + one.upper) / 2 for one in known if one is not None] if None not in known else []
