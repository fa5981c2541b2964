"""Which substitution a fraction of hyperbolic functions and exponentials is worked with.

one sinh can stand beside the differential         u = cosh x      sinh^3 x/(1 + cosh x)^2
one cosh can                                       u = sinh x      cosh^3 x/(1 + sinh^2 x)
all in tanh, and one sech squared                  u = tanh x      1/(1 + cosh^2 x)
anything                                           u = e^x         1/(1 + cosh x), e^x/sinh 2x
nothing is left below the line                     no u at all     sinh^2 x/(1 + cosh x) = cosh x - 1
"""

from __future__ import annotations

from functools import lru_cache

from qbank.maths.expression import Expression, Symbol
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.half_angle.circular_fraction import circular_fraction
from qbank.techniques.half_angle.letter_fraction import LetterFraction
from qbank.techniques.half_angle.letter_kinds import COSH, EXP, SINH, TANH, InLetter, LetterKind, in_letter
from qbank.techniques.half_angle.shorter_way import Cancelled, cancelled

__all__ = ["rational_way", "with_hyperbolic_kind"]


@lru_cache(maxsize=64)
def rational_way(integrand: Expression, variable: Symbol) -> Cancelled | InLetter | None:
    """The way of an integrand of this kind, else None."""
    seen = circular_fraction(integrand, variable, hyperbolic=True)
    if seen is None:
        return None
    whole = cancelled(seen, variable, (COSH, SINH))
    if whole is not None:
        return whole
    found = (with_hyperbolic_kind(integrand, variable, kind) for kind in (COSH, SINH, TANH))
    ways = [way for way in found if way is not None and not (way.kind is TANH and _at_one(way.fraction))]
    if ways:
        return min(ways, key=lambda way: way.fraction.size)
    return with_hyperbolic_kind(integrand, variable, EXP)


def with_hyperbolic_kind(integrand: Expression, variable: Symbol, kind: LetterKind) -> InLetter | None:
    """The integrand after one substitution, else None."""
    seen = circular_fraction(integrand, variable, hyperbolic=True)
    if seen is None:
        return None
    return in_letter(seen, kind, spare_letter(integrand), integrand.symbols())


def _at_one(fraction: LetterFraction) -> bool:
    """Whether a bracket u - 1 or u + 1 stands below the line: then x is in the answer, as a logarithm of tanh."""
    return not sum(fraction.under) or not sum((-1) ** n * c for n, c in enumerate(fraction.under))
