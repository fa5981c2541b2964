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
from qbank.maths.letter_fraction import LetterFraction
from qbank.techniques.half_angle.circular_fraction import circular_fraction
from qbank.techniques.half_angle.letter_kinds import COSH, EXP, SINH, TANH, InLetter
from qbank.techniques.half_angle.shorter_way import Cancelled, cancelled, shortest

__all__ = ["rational_way"]


@lru_cache(maxsize=64)
def rational_way(integrand: Expression, variable: Symbol) -> Cancelled | InLetter | None:
    """The way of an integrand of this kind, else None."""
    seen = circular_fraction(integrand, variable, hyperbolic=True)
    if seen is None:
        return None
    whole = cancelled(seen, variable, (COSH, SINH))
    if whole is not None:
        return whole
    tangents = TANH.fraction(seen)
    kinds = (COSH, SINH) if tangents is None or _at_one(tangents) else (COSH, SINH, TANH)
    return shortest(seen, integrand, kinds) or shortest(seen, integrand, (EXP,))


def _at_one(fraction: LetterFraction) -> bool:
    """Whether a bracket u - 1 or u + 1 stands below the line: then x is in the answer, as a logarithm of tanh."""
    return not sum(fraction.under) or not sum((-1) ** n * c for n, c in enumerate(fraction.under))
