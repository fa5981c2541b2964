"""The formulae for a power of the variable or of a logarithm in a product, all by parts.

    int x^n e^(ax) dx     I_n = 1/a x^n e^(ax) - n/a I_(n-1)
    int x^m (ln x)^n dx   I_n = 1/(m + 1) x^(m+1) (ln x)^n - n/(m + 1) I_(n-1)
    int x^n sin ax dx     I_n = -1/a x^n cos ax + n/a^2 x^(n-1) sin ax - n(n-1)/a^2 I_(n-2)      parts twice

A linear bracket may stand for x, in the logarithm too.

Formulae: Abramowitz & Stegun 4.1.52, 4.2.55 (both from memory), 4.3.119, 4.3.123.
"""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.constant_factor import before_integral, in_front, number, times
from qbank.maths.derivative import derivative
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    difference,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.messages import say
from qbank.techniques.indexed_integral import IndexedIntegral
from qbank.techniques.recurrence.recurrence import Recurrence, Rung, raised
from qbank.techniques.working import Working

__all__ = ["Exponentials", "Logarithms", "Waves"]


def _together(*parts: Expression) -> Expression:
    return times(*map(factored, parts)).tree()


@dataclass(frozen=True, slots=True, kw_only=True)
class _ByParts(Recurrence):
    """`int u^n dv`, where u becomes simpler by differentiating.

    Attributes:
        falling: u, whose power is brought down.
        slope: the constant that differentiating u brings.
        dv: what stands beside the power.
        v: its integral, without the constant `1/rate`.
    """

    falling: Expression
    slope: Factored
    dv: Expression
    v: Expression

    @property
    def floor(self) -> int:
        """The factor beside the power, alone."""
        return 0

    @property
    def is_first(self) -> bool:
        """From five rounds by parts on."""
        return self.power >= 5

    def member(self, power: Expression | int) -> Expression:
        """A power of u beside the other factor."""
        return _together(raised(self.falling, power), self.dv)

    def kept(self, power: int) -> int:
        """The power in the term outside; a slip lowers it there already."""
        return power - 1 if self.habit == "power kept" else power

    def let_parts(
        self, working: Working, power: Expression, lower: Expression, v: Expression, dv: Expression, said: str
    ) -> str:
        """Write `u = f^power` and v, with lower = power - 1; what is left to say about parts is returned."""
        letter, other = self.letters
        du = _together(power, raised(self.falling, lower), derivative(self.falling, self.variable))
        working.let(letter, raised(self.falling, power), du, said)
        working.let(other, v, dv, say("The rest is integrated."))
        return say(
            "The integral of {u} d{v} is {u} {v} less the integral of {v} d{u}.", u=letter.name, v=other.name
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Single(_ByParts):
    """`I_n = v/rate u^n - n slope/rate I_(n-1)`."""

    @property
    def step(self) -> int:
        """One round of parts brings the power down by one."""
        return 1

    @property
    def opening(self) -> str:
        """Why u is chosen."""
        return say("By parts: the power comes down by one when it is differentiated.")

    def outside(self, power: Expression | int) -> Expression:
        """`u^n v`, in the order of the integrand."""
        return _together(raised(self.falling, power), self.v)

    def rung(self, power: int) -> Rung:
        """The formula for one power."""
        size = power - (self.habit == "number in front")
        ratio = times(self.slope, self.below)
        lower = times(number(size if self.habit == "sign" else -size), ratio)
        return Rung(share=1, terms=((self.below, self.outside(self.kept(power))),), lower=lower)

    def derive(self, working: Working, called: IndexedIntegral) -> None:
        """By parts once."""
        n = called.index
        fewer = difference(n, Integer(1))
        v = in_front(self.below, self.v)
        said = self.let_parts(working, n, fewer, v, self.dv, self.opening)
        done = in_front(self.below, self.outside(n))
        front = times(number(-1), factored(n), self.slope, self.below)
        left = before_integral(front, Integral(self.member(fewer), self.variable))
        working.balance(called.symbol, sum_of(done, left), rule="by-parts", reason=said)
        working.balance(
            called.symbol,
            sum_of(done, before_integral(front, called.lower(1))),
            rule="recurrence",
            reason=say(
                "What is left is of the same kind, the power one lower: this is the recurrence formula."
            ),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Exponentials(_Single):
    """`L^n e^(ax + b)`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Logarithms(_Single):
    """`P^m (ln L)^n`; the rate is `m + 1` times the slope of P."""

    def member(self, power: Expression | int) -> Expression:
        """A power of the logarithm after the other factor."""
        return _together(self.dv, raised(self.falling, power))

    def outside(self, power: Expression | int) -> Expression:
        """The power of the logarithm after the other factor."""
        return _together(self.v, raised(self.falling, power))


@dataclass(frozen=True, slots=True, kw_only=True)
class Waves(_ByParts):
    """`I_n = s/a L^n g + n c/a^2 L^(n-1) f - n (n-1) c^2/a^2 I_(n-2)` for f a sine or cosine; g is the other."""

    @property
    def step(self) -> int:
        """Two rounds of parts bring back the same function."""
        return 2

    def signed(self) -> Factored:
        """The constant of the integral of f, which is that times g."""
        assert isinstance(self.dv, Apply)  # a sine or a cosine
        return times(number(-1 if self.dv.function == "sin" else 1), self.below)

    def rung(self, power: int) -> Rung:
        """The formula for one power."""
        kept, both = self.kept(power), times(self.slope, self.below, self.below)
        first = (self.signed(), _together(raised(self.falling, kept), self.v))
        second = (times(number(power), both), _together(raised(self.falling, power - 1), self.dv))
        # in a slip the power is not one less the second time
        size = power * (power if self.habit == "number in front" and power > 1 else power - 1)
        lower = times(number(size if self.habit == "sign" else -size), self.slope, both)
        return Rung(share=1, terms=(first, second), lower=lower)

    def derive(self, working: Working, called: IndexedIntegral) -> None:
        """By parts twice."""
        n = called.index
        fewer, two = difference(n, Integer(1)), difference(n, Integer(2))
        f, g, back = self.dv, self.v, times(number(-1), self.signed())
        said = self.let_parts(
            working,
            n,
            fewer,
            in_front(self.signed(), g),
            f,
            say("By parts: the power comes down by one when it is differentiated."),
        )
        first = in_front(self.signed(), _together(raised(self.falling, n), g))
        ratio = times(factored(n), self.slope, back)
        left = before_integral(ratio, Integral(_together(raised(self.falling, fewer), g), self.variable))
        working.balance(called.symbol, sum_of(first, left), rule="by-parts", reason=said)
        said = self.let_parts(working, fewer, two, in_front(back, f), g, say("By parts again."))
        second = in_front(times(ratio, back), _together(raised(self.falling, fewer), f))
        # u v less the integral of v du, and v has the sign of `back`
        ratio = times(number(-1), ratio, factored(fewer), self.slope, back)
        left = before_integral(ratio, Integral(self.member(two), self.variable))
        working.balance(called.symbol, sum_of(first, second, left), rule="by-parts", reason=said)
        working.balance(
            called.symbol,
            sum_of(first, second, before_integral(ratio, called.lower(2))),
            rule="recurrence",
            reason=say(
                "What is left is of the same kind, the power two lower: this is the recurrence formula."
            ),
        )
