"""What stands under the roots of an integrand: one simple expression, so that the root can be a letter of its own.

sqrt(2x + 1), cbrt(2x + 1)     2x + 1, index 6
sqrt x, x^(2/3)                x, index 6
sqrt(x^2 + 4)                  t + 4 with t = x^2
sqrt(e^(3x) - 1)               t - 1 with t = e^(3x)
sqrt(a + b x^2)                b t + a with t = x^2
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from qbank.maths.constant_factor import number, split_constant
from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Power,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_linear, as_polynomial
from qbank.techniques.standard.linear_inner import is_zero

__all__ = ["Radical", "radical", "radical_of", "rate_of_exponential"]

#: roots of a higher index, and higher powers of x under a root, are nobody's exercise
_INDEX_LIMIT = 12
_POWER_LIMIT = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Radical:
    """The radicand `slope * t + shift` and the common index.

    Attributes:
        under: as it was written.
        index: of the root that all others are powers of.
        slope: the number before t, or a constant with letters.
        shift: what is added, a constant too.
        power: t is x to this power; 0 when t is an exponential.
        rate: t is e to this times x; 0 when t is a power.
    """

    under: Expression
    index: int
    slope: Factored
    shift: Factored
    power: int = 0
    rate: Fraction = Fraction(0)

    @property
    def numeric(self) -> bool:
        """Whether slope and shift are numbers."""
        return not (self.slope.powers or self.shift.powers)


def radical(integrand: Expression, variable: Symbol) -> Radical | None:
    """The one radicand of an integrand, else None.

    >>> x = Symbol("x")
    >>> found = radical(x * Root(2 * x + 1), x)
    >>> found.slope.coefficient, found.shift.coefficient, found.index
    (Fraction(2, 1), Fraction(1, 1), 2)
    """
    found = [pair for node in integrand.walk() for pair in _root(node, variable)]
    if not found:
        return None
    under, index = found[0][0], lcm(*(n for _, n in found))
    coefficients = as_polynomial(under, variable)
    for other, _ in found[1:]:
        same = coefficients is not None and as_polynomial(other, variable) == coefficients
        if not (same or other == under):
            return None
    return radical_of(under, index, variable) if 1 < index <= _INDEX_LIMIT else None


def _root(node: Expression, variable: Symbol) -> list[tuple[Expression, int]]:
    match node:
        case Root(radicand, index):
            pair = (radicand, index)
        case Power(base, exponent) if base != E:
            n = as_fraction(exponent)
            pair = (base, 1 if n is None else n.denominator)
        case _:
            return []
    under, index = pair
    if variable not in under.symbols() or index == 1:
        return []
    seen = factored(under)
    if seen.coefficient == 1 and len(seen.powers) == 1 and seen.powers[0][0] == variable:
        power = seen.powers[0][1]
        # sqrt(x^3) is a power of sqrt x; but sqrt(x^2) is the modulus
        if power.denominator == 1 and (power % 2 or index % 2):
            return [(variable, (power / index).denominator)]
    return [(under, index)]


def radical_of(under: Expression, index: int, variable: Symbol) -> Radical | None:
    """The root of that index of an expression; None when it cannot be solved for the variable or an exponential.

    >>> x, a = Symbol("x"), Symbol("a")
    >>> radical_of(a * x + 1, 2, x).slope.tree() == a
    True
    """
    whole = as_polynomial(under, variable)
    if whole is not None:
        present = [n for n, c in enumerate(whole) if c]
        power = present[-1]
        if (
            not 1 <= power <= _POWER_LIMIT
            or (power > 1 and not whole[0])
            or any(n not in (0, power) for n in present)
        ):
            return None
        return Radical(
            under=under, index=index, slope=number(whole[power]), shift=number(whole[0]), power=power
        )
    return _with_letters(under, index, variable) or _exponential(under, index, variable)


def _with_letters(under: Expression, index: int, variable: Symbol) -> Radical | None:
    """One power of the variable with a constant before it, and another added, letters in them."""
    terms = under.terms if isinstance(under, Sum) else (under,)
    fixed = [term for term in terms if variable not in term.symbols()]
    moving = [term for term in terms if variable in term.symbols()]
    if len(moving) != 1:
        return None
    slope, body = split_constant(moving[0], variable)
    power = body.exponent(variable)
    if len(body.powers) != 1 or power not in range(1, _POWER_LIMIT + 1) or (power > 1 and not fixed):
        return None
    if any(is_zero(base, variable) for base, _ in slope.powers):
        return None
    shift = factored(sum_of(*fixed)) if fixed else number(0)
    return Radical(under=under, index=index, slope=slope, shift=shift, power=int(power))


def _exponential(under: Expression, index: int, variable: Symbol) -> Radical | None:
    slope, shift, rate = fraction(0, 1), fraction(0, 1), fraction(0, 1)
    for term in under.terms if isinstance(under, Sum) else (under,):
        value = as_fraction(term)
        if value is not None:
            shift += value
            continue
        seen = factored(term)
        found = rate_of_exponential(seen.powers[0][0], variable) if len(seen.powers) == 1 else None
        if found is None or rate or seen.powers[0][1] != 1:
            return None
        slope, rate = seen.coefficient, found
    if not (slope and shift and rate):
        return None
    return Radical(under=under, index=index, slope=number(slope), shift=number(shift), rate=rate)


def rate_of_exponential(tree: Expression, variable: Symbol) -> Fraction | None:
    """3 for `e^(3x)`; None for anything else."""
    match tree:
        case Power(base, exponent) if base == E:
            linear = as_linear(exponent, variable)
        case Apply("exp", exponent):
            linear = as_linear(exponent, variable)
        case _:
            return None
    return linear[0] if linear is not None and not linear[1] else None
