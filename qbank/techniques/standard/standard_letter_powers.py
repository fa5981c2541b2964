"""A power of the variable, or of a linear bracket, with a letter for exponent: `x^n`, `(a x + b)^(n - 1)`, `x^pi`.

It is integrated like any other power, but that the new exponent must not be zero, which is said: for n = -1 there is a
logarithm. Equality holds where the power is real: for every n only on a positive base.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from qbank.maths.constant_factor import in_front, number, over, times
from qbank.maths.expression import Expression, Integer, Power, Sum, Symbol, rational
from qbank.maths.factors import Factored, factored
from qbank.maths.letter_exponents import (
    exponent_sum,
    has_letter_exponent,
    letter_powers_joined,
)
from qbank.maths.tidying import scaled, split_coefficient
from qbank.messages import say
from qbank.techniques.standard.linear_inner import Inner, as_inner
from qbank.techniques.standard.standard_terms import Habit, slope_factor

__all__ = ["LetterPowerTerm", "standard_letter_power"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterPowerTerm:
    """`constant * inner^exponent`, the exponent a constant that is no rational number.

    Attributes:
        constant: the constant in front.
        inner: what is raised to the power.
        exponent: the power.
    """

    constant: Factored
    inner: Inner
    exponent: Expression

    @property
    def reason(self) -> str:
        """What the teacher says."""
        if self.inner.plain:
            return say("Raise the power by one and divide by the new power.")
        return say("Raise the power by one, divide by the new power and by the slope of the bracket.")

    def core(self) -> Expression:
        """The power."""
        return Power(self.inner.tree, self.exponent)

    def draft(self) -> Expression | None:
        """Nothing in between."""
        return None

    def answer(self, habit: Habit = "right") -> Expression:
        """The power raised by one, divided by the new exponent and the slope."""
        base, new = self.inner.tree, exponent_sum(self.exponent, Integer(1))
        divisor, raised = over(_whole(new)), _power(base, new)
        match habit:
            case "power not divided":
                divisor = number(1)
            case "divided by the old power":
                divisor = over(_whole(self.exponent))
            case "power not raised":
                raised = self.core()
            case "differentiated":
                lowered = _power(base, exponent_sum(self.exponent, rational(-1)))
                return in_front(times(self.constant, self.inner.slope, factored(self.exponent)), lowered)
            case _:
                pass
        return in_front(times(self.constant, slope_factor(self.inner, habit), divisor), raised)


def standard_letter_power(constant: Factored, moving: Factored, variable: Symbol) -> LetterPowerTerm | None:
    """See powers of one linear bracket, at least one of them with a letter for exponent; else None.

    >>> x, n = Symbol("x"), Symbol("n")
    >>> seen = standard_letter_power(number(1), factored(x**n * x), x)
    >>> seen is not None and seen.exponent == n + 1
    True
    """
    if not any(has_letter_exponent(base, variable) for base, _ in moving.powers):
        return None
    joined = letter_powers_joined(moving, variable).powers
    if len(joined) != 1 or joined[0][1] != 1 or not isinstance(joined[0][0], Power):
        return None
    power = joined[0][0]
    inner = as_inner(power.base, variable)
    return None if inner is None else LetterPowerTerm(constant=constant, inner=inner, exponent=power.exponent)


def _whole(exponent: Expression) -> Factored:
    """An exponent to be divided by, `n + 3/2` as a half of `2n + 3`."""
    terms = exponent.terms if isinstance(exponent, Sum) else (exponent,)
    below = lcm(*(split_coefficient(term)[0].denominator for term in terms))
    cleared = exponent_sum(*(scaled(below, term) for term in terms))
    return times(number(Fraction(1, below)), factored(cleared))


def _power(base: Expression, exponent: Expression) -> Expression:
    return base if exponent == Integer(1) else Power(base, exponent)
