"""Which shorter way a fraction of sines and cosines has, where it has one.

one sine can stand beside the differential        u = cos x       sin^3 x/(2 + cos x), 1/(sin x cos^2 x)
one cosine can                                    u = sin x       cos x/(3 - cos^2 x)
all in tangents and one squared secant            u = tan x       1/(1 + cos^2 x), 1/(2 + tan x)
nothing is left below the line                    no u at all     sin^2 x/(1 + cos x) = 1 - cos x

(Bioche's rules: the integral keeps its form when x becomes -x, pi - x or pi + x. From memory.)
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.expression import Expression, Symbol, product, sum_of
from qbank.maths.letter_fraction import ZERO, LetterFraction
from qbank.maths.tidying import scaled
from qbank.techniques.circular import even_powers
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.half_angle.circular_fraction import CircularFraction, circular_fraction
from qbank.techniques.half_angle.letter_kinds import COS, SIN, TAN, InLetter, LetterKind, in_letter
from qbank.techniques.standard import standard_forms
from qbank.techniques.term_by_term import term_by_term
from qbank.techniques.working import WorkedSolution

__all__ = ["Cancelled", "cancelled", "shorter_way", "shortest"]


def _powers(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    found = (known.work(integrand, variable) for known in (standard_forms.TECHNIQUE, even_powers.TECHNIQUE))
    return next((one for one in found if one is not None), None)


_TERM_BY_TERM = term_by_term(_powers, ())


@dataclass(frozen=True, slots=True, kw_only=True)
class Cancelled:
    """A fraction that is none: what it is equal to, and how that is integrated, without the constant in front."""

    seen: CircularFraction
    core: Expression
    solution: WorkedSolution


@lru_cache(maxsize=64)
def shorter_way(integrand: Expression, variable: Symbol) -> Cancelled | InLetter | None:
    """The shorter way of an integrand, else None."""
    seen = circular_fraction(integrand, variable)
    if seen is None:
        return None
    whole = cancelled(seen, variable, (COS, SIN))
    if whole is not None:
        return whole
    return shortest(seen, integrand, (COS, SIN, TAN))


def shortest(seen: CircularFraction, integrand: Expression, kinds: tuple[LetterKind, ...]) -> InLetter | None:
    """The substitution that leaves the shortest fraction, among those that can be worked."""
    sizes = [(kind, fraction.size) for kind in kinds if (fraction := kind.fraction(seen)) is not None]
    fits = [kind for kind, _ in sorted(sizes, key=lambda pair: pair[1])]
    # with letters for numbers nothing is known of the size beforehand
    fits += [kind for kind in kinds if kind not in fits]
    letter, taken = spare_letter(integrand), integrand.symbols()
    ways = (in_letter(seen, kind, letter, taken) for kind in fits)
    return next((way for way in ways if way is not None), None)


def cancelled(
    seen: CircularFraction, variable: Symbol, kinds: tuple[LetterKind, LetterKind]
) -> Cancelled | None:
    """The fraction without a fraction line, where that has a standard integral; else None.

    Args:
        seen: the integrand.
        variable: its variable.
        kinds: u is the cosine, u is the sine.
    """
    for kind, beside_kind in (kinds, kinds[::-1]):
        value = seen.value(kind.circle)
        if value is None or not (value.a.is_polynomial and value.b.is_polynomial):
            continue
        known, beside = (one.meaning(seen.angle) for one in (kind, beside_kind))
        letter = Symbol("u")
        one, other = (_written(part, letter).substitute({letter: known}) for part in (value.a, value.b))
        core = sum_of(
            *((one,) if value.a != ZERO else ()), *((product(other, beside),) if value.b != ZERO else ())
        )
        found = (known.work(core, variable) for known in (standard_forms.TECHNIQUE, _TERM_BY_TERM))
        solution = next((one for one in found if one is not None), None)
        if solution is not None:
            return Cancelled(seen=seen, core=core, solution=solution)
    return None


def _written(part: LetterFraction, letter: Symbol) -> Expression:
    size, body = part.written(letter)
    return scaled(size, body)
