"""Exponentials of different bases brought together as one: `2^x e^x = (2e)^x`, `2^x/3^x = (2/3)^x`, `a^x e^(bx) = (a e^b)^x`.

The logarithm of such a base is written by the laws of logarithms, `ln 2 + 1` and `ln a + b`. A letter is taken to be a positive
base.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from qbank.maths.constant_factor import number, times
from qbank.maths.expression import (
    Apply,
    Constant,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Quotient,
    Symbol,
    as_fraction,
    fraction,
    rational,
    sum_of,
)
from qbank.maths.factors import Factored, factored, power_tree
from qbank.maths.tidying import scaled, tidy
from qbank.techniques.standard.linear_inner import Inner, as_inner, is_zero

__all__ = ["Together", "brought_together", "logarithm_of"]

#: a number is raised to whole powers of this size at most
_POWER_LIMIT = 12


def logarithm_of(base: Expression) -> Expression | None:
    """The logarithm of a base, else None where it is none: not positive by its looks, or 1.

    >>> logarithm_of(2 * E) == sum_of(Apply("ln", Integer(2)), Integer(1))
    True
    """
    value = as_fraction(base)
    if value is not None:
        return Apply("ln", base) if value > 0 and value != 1 else None
    seen = factored(base)
    if seen.coefficient <= 0:
        return None
    terms: list[Expression] = []
    if seen.coefficient.numerator == 1 != seen.coefficient.denominator:
        terms.append(Negate(Apply("ln", Integer(seen.coefficient.denominator))))
    elif seen.coefficient != 1:
        terms.append(Apply("ln", rational(seen.coefficient)))
    last: list[Expression] = []
    for part, n in seen.powers:
        whole = as_fraction(part)
        match part:
            case Power(constant, exponent) if constant == E:
                last.append(scaled(n, exponent))
            case _ if part == E:
                last.append(rational(n))
            case Symbol() | Constant("pi"):
                terms.append(scaled(n, Apply("ln", part)))
            case _ if whole is not None and whole > 0:
                terms.append(scaled(n, Apply("ln", part)))
            case _:
                return None
    falls = bool(terms) and isinstance(terms[0], Negate)
    return tidy(sum_of(*last, *terms) if falls else sum_of(*terms, *last))


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """Powers of constant bases as `constant * base^inner`.

    Attributes:
        constant: what numbers added in the exponents leave.
        base: the product of the bases.
        inner: the exponent that they share.
    """

    constant: Factored
    base: Expression
    inner: Inner


def brought_together(
    powers: Iterable[tuple[Expression, Expression, Fraction]], variable: Symbol
) -> Together | None:
    """Powers of constant bases with linear exponents as a constant times one power; None where that is none.

    Args:
        powers: base, exponent, and the power to which all of it is raised.
        variable: the letter in the exponents.

    >>> x = Symbol("x")
    >>> found = brought_together([(Integer(2), 3 * x, Fraction(1)), (Integer(5), 3 * x, Fraction(1))], x)
    >>> found.base, found.inner.tree == 3 * x
    (Integer(value=10), True)
    """
    constant, found = number(1), list[tuple[Expression, Factored]]()
    for base, exponent, n in powers:
        inner = as_inner(tidy(scaled(n, exponent)), variable)
        if inner is None or logarithm_of(base) is None:
            return None
        shift = tidy(inner.tree.substitute({variable: Integer(0)}))
        constant = times(constant, _raised(base, factored(shift)))
        found.append((base, inner.slope))
    rate = _common([slope for _, slope in found])
    whole = _written(times(*(_raised(base, times(slope, number(1 / rate))) for base, slope in found)))
    shared, logarithm = as_inner(scaled(rate, variable), variable), logarithm_of(whole)
    if shared is None or logarithm is None or is_zero(logarithm, variable):
        return None
    return Together(constant=constant, base=whole, inner=shared)


def _written(base: Factored) -> Expression:
    """`e/3`, with no fraction in front."""
    if base.coefficient.denominator == 1 or not base.powers:
        return base.tree()
    above = Factored(
        coefficient=Fraction(base.coefficient.numerator), powers=tuple(p for p in base.powers if p[1] > 0)
    )
    below = Factored(
        coefficient=Fraction(base.coefficient.denominator),
        powers=tuple((part, -n) for part, n in base.powers if n < 0),
    )
    return Quotient(above.tree(), below.tree())


def _raised(base: Expression, exponent: Factored) -> Factored:
    """A constant to a constant power."""
    value = as_fraction(base)
    if not exponent.coefficient:
        return number(1)
    if exponent.powers:
        return Factored(coefficient=fraction(1, 1), powers=((Power(base, exponent.tree()), fraction(1, 1)),))
    n = exponent.coefficient
    if value is not None and n.denominator == 1 and abs(n) <= _POWER_LIMIT:
        return number(value ** int(n))
    return factored(power_tree(base, n))


def _common(slopes: list[Factored]) -> Fraction:
    """What number all slopes are whole multiples of; 1 where letters stand in them."""
    if any(slope.powers for slope in slopes):
        return fraction(1, 1)
    below = lcm(*(slope.coefficient.denominator for slope in slopes))
    size = Fraction(gcd(*(int(slope.coefficient * below) for slope in slopes)), below)
    return -size if all(slope.coefficient < 0 for slope in slopes) else size
