"""A polynomial in the sine or the cosine over a power of `p + q cos A`, and the formula that brings the power down.

    I_k = int 1/(p + q cos A)^k dx      S_k = sin A/(p + q cos A)^(k-1)
    (k - 1)(p^2 - q^2) I_k = (2k - 3) p I_(k-1) - (k - 2) I_(k-2) - q S_k      for an angle of slope 1

For the sine S_k has the cosine above the line, and its sign turns. The formula comes of the derivative of S_k, which the
working shows with its numbers; it holds where p^2 and q^2 differ. Gradshteyn & Ryzhik 2.552 and 2.554 (from memory); the tests hold it
against SymPy and the published rows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal, TypeAlias

from qbank.maths.constant_factor import before_integral, in_front, number, over, times
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Power,
    Quotient,
    Sum,
    Symbol,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.letter_fraction import ZERO
from qbank.maths.polynomial import as_polynomial, divided_by, polynomial_tree
from qbank.maths.polynomial_factors import factorise
from qbank.techniques.carrying import multiplied
from qbank.techniques.half_angle import half_angle_substitution
from qbank.techniques.half_angle.circle import COSINE, SINE
from qbank.techniques.half_angle.circular_fraction import CircularFraction, circular_fraction
from qbank.techniques.half_angle.letter_kinds import slope
from qbank.techniques.term_by_term import collected
from qbank.techniques.working import WorkedSolution

__all__ = ["DenominatorPowers", "Habit", "Stage", "denominator_powers"]

#: how the formula is used; anything but "right" is a slip
Habit: TypeAlias = Literal[
    "right", "sign", "squares added", "not divided", "base lost", "slope ignored", "slope multiplied"
]

#: higher powers are nobody's exercise
_MOST = 6
_U = Symbol("u")


@dataclass(frozen=True, slots=True)
class Stage:
    """How far one has come: finished terms, and the number before each I_k that is left, the highest k first."""

    done: tuple[Expression, ...]
    left: tuple[tuple[int, Fraction], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DenominatorPowers:
    """`constant * (numerator in f) / (p + q f)^power`, f the cosine or the sine of an angle.

    Attributes:
        seen: the integrand.
        variable: its variable.
        bracket: p + q f, as it was written.
        line: p and q.
        over: the numerator, lowest first.
        power: the power below the line.
        base: the working of 1/(p + q f).
        habit: how the formula is used.
    """

    seen: CircularFraction
    variable: Symbol
    bracket: Expression
    line: tuple[Fraction, Fraction]
    over: tuple[Fraction, ...]
    power: int
    base: WorkedSolution
    habit: Habit = "right"

    @property
    def names(self) -> tuple[str, str]:
        """The function below the line, and its partner."""
        return ("cos", "sin") if "cos" in self.seen.names or "sec" in self.seen.names else ("sin", "cos")

    @property
    def function(self) -> Expression:
        """The function f of the angle."""
        return Apply(self.names[0], self.seen.angle.tree)

    @property
    def partner(self) -> Expression:
        """The other one of sine and cosine."""
        return Apply(self.names[1], self.seen.angle.tree)

    @property
    def sign(self) -> int:
        """The sign of the derivative of the partner."""
        return 1 if self.names[0] == "cos" else -1

    @property
    def rate(self) -> Factored:
        """By what is divided on account of the angle, or what a slip makes of it."""
        if self.habit == "slope ignored":
            return number(1)
        return over(slope(self.seen)) if self.habit == "slope multiplied" else slope(self.seen)

    def raised(self, power: int) -> Expression:
        """A power of the bracket."""
        return self.bracket if power == 1 else Power(self.bracket, Integer(power))

    def polynomial(self, coefficients: tuple[Fraction, ...]) -> Expression:
        """A polynomial in f."""
        return polynomial_tree(coefficients, _U).substitute({_U: self.function})

    def outside(self, power: int) -> Expression:
        """S_k: the partner over the power that is one lower."""
        return Quotient(self.partner, self.raised(power - 1))

    def in_brackets(self) -> tuple[Fraction, ...]:
        """The numerator as a polynomial in the bracket, lowest first."""
        found, left = list[Fraction](), self.over
        while left:
            left, rest = divided_by(left, self.line)
            found.append(rest[0] if rest else fraction(0, 1))
        return tuple(found)

    def slope_in_brackets(self, power: int) -> tuple[Fraction, Fraction, Fraction]:
        """The numerator of the derivative of S_k over `D^k`, as a polynomial in the bracket D, its sign left out."""
        p, q = self.line
        squares = p * p + q * q if self.habit == "squares added" else p * p - q * q
        return -(power - 1) * squares / q, (2 * power - 3) * p / q, -(power - 2) / q

    def start(self) -> Stage:
        """The integrals that the integrand is the sum of; a whole number is integrated at once."""
        sizes = {self.power - place: c for place, c in enumerate(self.in_brackets()) if c}
        done = (in_front(times(self.seen.constant, number(sizes[0])), self.variable),) if 0 in sizes else ()
        return Stage(done, tuple((k, sizes[k]) for k in sorted(sizes, reverse=True) if k))

    def stages(self) -> Iterator[Stage]:
        """From the beginning down to the first power."""
        stage = self.start()
        yield stage
        while stage.left and stage.left[0][0] > 1:
            stage = self._lower(stage)
            yield stage

    def _lower(self, stage: Stage) -> Stage:
        (k, size), *rest = stage.left
        highest, middle, lowest = self.slope_in_brackets(k)
        share = Fraction(-1 if highest < 0 else 1) if self.habit == "not divided" else highest
        sign = self.sign * (-1 if self.habit == "sign" else 1)
        sizes = dict(rest)
        for power, c in ((k - 1, middle), (k - 2, lowest)):
            sizes[power] = sizes.get(power, fraction(0, 1)) - size * c / share
        front = times(self.seen.constant, number(size * sign / share), over(self.rate))
        left = tuple((power, sizes[power]) for power in sorted(sizes, reverse=True) if power and sizes[power])
        return Stage((*stage.done, in_front(front, self.outside(k))), left)

    def shown(self, stage: Stage) -> Expression:
        """A stage as a line."""
        integrals = (
            before_integral(times(self.seen.constant, number(c)), self.integral(k)) for k, c in stage.left
        )
        return sum_of(*stage.done, *integrals)

    def integral(self, power: int) -> Expression:
        """I_k."""
        return Integral(Quotient(Integer(1), self.raised(power)), self.variable)

    def answer(self) -> Expression:
        """The antiderivative."""
        *_, last = self.stages()
        if not last.left or self.habit == "base lost":
            return sum_of(*last.done)
        front = times(self.seen.constant, number(last.left[0][1]))
        base = multiplied(front, self.base.antiderivative)
        if self.habit in ("slope ignored", "slope multiplied"):
            changed = factored(base)
            base = times(changed, slope(self.seen), over(self.rate)).tree()
        return collected(sum_of(*last.done, base))


# a technique and each of its slips look at one integrand in turn
@lru_cache(maxsize=64)
def denominator_powers(integrand: Expression, variable: Symbol) -> DenominatorPowers | None:
    """The numbers of an integrand of this kind, else None.

    >>> from qbank.maths.expression import cos
    >>> x = Symbol("x")
    >>> plan = denominator_powers(1 / (5 + 3 * cos(x)) ** 2, x)
    >>> plan.line, plan.power
    ((Fraction(5, 1), Fraction(3, 1)), 2)
    """
    seen = circular_fraction(integrand, variable)
    if seen is None or not seen.single:
        return None
    for circle, names, function in ((COSINE, {"cos", "sec"}, "cos"), (SINE, {"sin", "cosec"}, "sin")):
        value = seen.value(circle) if function == "cos" or not seen.names & {"cos", "sec"} else None
        if not seen.names & names or value is None or value.b != ZERO:
            continue
        _, factors = factorise(value.a.under) if len(value.a.under) > 2 else (fraction(1, 1), ())
        if len(factors) != 1 or len(factors[0][0]) != 2 or not 2 <= factors[0][1] <= _MOST:
            return None
        (line, power), f = factors[0], Apply(function, seen.angle.tree)
        bracket, (p, q) = _as_written(seen.core, f, (Fraction(line[0]), Fraction(line[1])))
        # what is divided by grows with the number before the function
        above = tuple(c * q**power for c in value.a.over)
        base = half_angle_substitution.TECHNIQUE.work(Quotient(Integer(1), bracket), variable)
        if not p or p * p == q * q or len(above) > power + 1 or base is None:
            return None
        return DenominatorPowers(
            seen=seen, variable=variable, bracket=bracket, line=(p, q), over=above, power=power, base=base
        )
    return None


def _as_written(
    core: Expression, function: Expression, line: tuple[Fraction, Fraction]
) -> tuple[Expression, tuple[Fraction, Fraction]]:
    """The bracket in the author's order with its numbers, else in ours."""

    def put(tree: Expression) -> Expression:
        return _U if tree == function else tree.rebuild(put)

    for base, _ in factored(core).powers:
        found = as_polynomial(put(base), _U) if isinstance(base, Sum) else None
        if found is not None and len(found) == 2 and found[0] * line[1] == found[1] * line[0]:
            return base, (found[0], found[1])
    return polynomial_tree(line, _U).substitute({_U: function}), line
