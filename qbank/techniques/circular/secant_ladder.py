"""Odd powers of sec (or cosec) brought down step by step: the numbers of the working, and of a student's.

tan^2 x sec x = sec^3 x - sec x
int sec^k dx  = 1/(k - 1) sec^(k-2) x tan x + (k - 2)/(k - 1) int sec^(k-2) dx       by parts
int sec x dx  = ln|sec x + tan x|
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import comb
from typing import Literal, TypeAlias

from qbank.maths.constant_factor import before_integral, in_front, number, over, times
from qbank.maths.expression import Apply, Expression, Integral, Symbol, fraction, product, sum_of
from qbank.maths.factors import Factored, factored, power_tree
from qbank.techniques.circular.angles import Angle
from qbank.techniques.circular.tangent_pairs import Seen, see_pair
from qbank.techniques.standard.standard_sums import plan_as_written

__all__ = ["Ladder", "Powers", "ladder"]

#: odd powers of the secant, each with its number
Powers: TypeAlias = dict[int, Fraction]

#: higher powers are nobody's exercise
_POWER_LIMIT = 11

_BELOW = {"sec": "cos", "cosec": "sin"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladder:
    """`front * int (sum of odd powers of s)`, with t and s a pair such as tan and sec.

    Attributes:
        seen: the integrand as `t^m s^n`.
        front: the constant in front.
        one: -1, the sign in t^2 = s^2 - 1 (1 in a slip) when a power is brought down.
        divided: whether the integral that came back is brought over and divided by, False in a slip.
        slope: what is done with the number inside the angle; anything but "divided" is a slip.
        rest: what becomes of the last integral: worked, or lost, or its sign changed (slips).
    """

    seen: Seen
    front: Factored
    one: int = -1
    divided: bool = True
    slope: Literal["divided", "forgotten", "multiplied"] = "divided"
    rest: Literal["worked", "lost", "sign changed"] = "worked"

    @property
    def angle(self) -> Angle:
        """The angle."""
        return self.seen.written.angle

    @property
    def variable(self) -> Symbol:
        """The variable."""
        return self.angle.variable

    @property
    def powers(self) -> Powers:
        """The integrand as odd powers of s, highest first."""
        half, n = int(self.seen.m) // 2, int(self.seen.n)
        return {n + 2 * j: Fraction(comb(half, j) * (-1) ** (half - j)) for j in range(half, -1, -1)}

    def secant(self, power: int) -> Expression:
        """`s^power`; a power of the reciprocal for a negative one."""
        if power < 0:
            return power_tree(Apply(_BELOW[self.seen.pair.secant], self.angle.tree), Fraction(-power))
        return power_tree(Apply(self.seen.pair.secant, self.angle.tree), Fraction(power))

    @property
    def tangent(self) -> Expression:
        """`t`."""
        return Apply(self.seen.pair.tangent, self.angle.tree)

    def rate(self) -> Factored:
        """The derivative of the angle, or what a slip makes of it, to divide by."""
        whole = times(number(self.angle.slope), factored(self.angle.unit))
        return {"divided": whole, "forgotten": number(1), "multiplied": over(whole)}[self.slope]

    def product_term(self, power: int, size: Fraction) -> Expression:
        """`size / rate * s^(power - 2) t`, signed as the integral of s^2."""
        whole = times(number(size * self.seen.pair.sign), over(self.rate()))
        return in_front(whole, product(self.secant(power - 2), self.tangent))

    def share(self, power: int) -> int:
        """By what a power is divided when its integral has come back."""
        return power - 1 if self.divided else 1

    def brought_down(self, powers: Powers) -> tuple[Expression, Powers]:
        """The term of the highest power, and the powers that are left."""
        power = max(powers)
        left = {k: c for k, c in powers.items() if k != power}
        size = powers[power] / self.share(power)
        lower = left.get(power - 2, fraction(0, 1)) - self.one * size * (power - 2)
        left = {power - 2: lower, **{k: c for k, c in left.items() if k != power - 2}}
        return self.product_term(power, size), {k: c for k, c in left.items() if c}

    def last_terms(self, powers: Powers) -> tuple[Expression, ...]:
        """The integrals of s and of 1/s."""
        if self.rest == "lost":
            return ()
        found = []
        for power, c in powers.items():
            plan = plan_as_written(self.secant(power), self.variable)
            assert plan is not None  # both are standard forms
            habit = {"divided": "right", "forgotten": "slope ignored", "multiplied": "slope multiplied"}
            tree = plan.answer(habit[self.slope])  # type: ignore[arg-type]
            sign = -1 if self.rest == "sign changed" else 1
            found.append(in_front(number(c * sign), tree))
        return tuple(found)

    def terms(self) -> tuple[Expression, ...]:
        """The antiderivative without the constant in front."""
        done, powers = list[Expression](), self.powers
        while powers and max(powers) > 1:
            term, powers = self.brought_down(powers)
            done.append(term)
        return (*done, *self.last_terms(powers))

    def answer(self) -> Expression:
        """The antiderivative."""
        return self.whole(*self.terms())

    def whole(self, *terms: Expression) -> Expression:
        """Terms with the constant in front."""
        return sum_of(*(in_front(self.front, term) for term in terms))

    def pending(self, powers: Powers) -> tuple[Expression, ...]:
        """The integrals of powers still to be done, the constant in front."""
        return tuple(
            before_integral(times(self.front, number(c)), Integral(self.secant(power), self.variable))
            for power, c in powers.items()
        )


def ladder(integrand: Expression, variable: Symbol) -> Ladder | None:
    """The numbers of an integrand `t^m s^n` with m even and n odd, not a standard form; else None.

    >>> from qbank.maths.expression import Apply, tan
    >>> x = Symbol("x")
    >>> ladder(tan(x) ** 2 * Apply("sec", x), x).powers
    {3: Fraction(1, 1), 1: Fraction(-1, 1)}
    """
    seen = see_pair(integrand, variable)
    if seen is None or seen.m.denominator != 1 or seen.n.denominator != 1:
        return None
    if seen.m < 0 or seen.m % 2 or seen.n % 2 == 0 or seen.n < -1:
        return None
    if not 2 < seen.m + seen.n <= _POWER_LIMIT and not (seen.m and seen.n == -1 and seen.m < _POWER_LIMIT):
        return None
    written = seen.written
    return Ladder(seen=seen, front=times(number(written.coefficient), factored(written.constants.times)))
