"""The formulae for powers of one circular function.

    n I_n       = -sin^(n-1) x cos x + (n - 1) I_(n-2)      by parts, cos^2 = 1 - sin^2
    (n - 1) I_n = sec^(n-2) x tan x + (n - 2) I_(n-2)       by parts, tan^2 = sec^2 - 1
    I_n         = tan^(n-1) x/(n - 1) - I_(n-2)             from tan^2 = sec^2 - 1 alone

The first and the second of these are one pattern: with p = 1 or 2, f^p is integrated and f^(n-p) is differentiated.

Formulae: Abramowitz & Stegun 4.3.127 (with m or n = 0), 4.3.128 (the same; from memory), 4.3.129, 4.3.130; the tests hold
them against the printed ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.constant_factor import before_integral, in_front, number, over, times
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Negate,
    Symbol,
    difference,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.messages import say
from qbank.techniques.circular.circular_powers import circular_powers
from qbank.techniques.indexed_integral import IndexedIntegral
from qbank.techniques.recurrence.circular_kinds import KINDS, Kind
from qbank.techniques.recurrence.recurrence import Recurrence, Rung, raised
from qbank.techniques.working import Working

__all__ = ["circular_recurrence"]

#: smaller powers are for identities, and larger ones are nobody's exercise
_POWERS = range(3, 21)

_RECIPROCALS = {"sin": "cosec", "cos": "sec", "tan": "cot", "sec": "cos", "cosec": "sin", "cot": "tan"}


def circular_recurrence(integrand: Expression, variable: Symbol) -> Recurrence | None:
    """The recurrence for a power of one circular function of a linear angle, else None.

    >>> from qbank.maths.expression import sin
    >>> x = Symbol("x")
    >>> found = circular_recurrence(sin(2 * x) ** 6, x)
    >>> found.power, found.rung(6).share
    (6, 6)
    """
    seen = circular_powers(integrand, variable)
    if seen is None or len(seen.powers) != 1:
        return None
    (name, n), angle = seen.powers[0], seen.angle
    name, n = (name, n) if n > 0 else (_RECIPROCALS[name], -n)
    if n not in _POWERS:
        return None
    made = _Powers if KINDS[name].parts else _Tangents
    return made(
        variable=variable,
        front=times(number(seen.coefficient), factored(seen.constants.times)),
        power=int(n),
        rate=times(number(angle.slope), factored(angle.unit)),
        name=name,
        angle=angle.tree,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Circular(Recurrence):
    """What the two patterns share.

    Attributes:
        name: the function.
        angle: its argument.
    """

    name: str
    angle: Expression

    @property
    def step(self) -> int:
        """The identity is one of squares."""
        return 2

    @property
    def floor(self) -> int:
        """The function itself, or 1."""
        return 1

    @property
    def kind(self) -> Kind:
        """What is known of the function."""
        return KINDS[self.name]

    @property
    def function(self) -> Expression:
        """The function f of the angle."""
        return Apply(self.name, self.angle)

    @property
    def partner(self) -> Expression:
        """Its partner g."""
        return Apply(self.kind.partner, self.angle)

    def member(self, power: Expression | int) -> Expression:
        """A power of f."""
        return raised(self.function, power)

    def signed(self) -> Factored:
        """The sign over the slope."""
        return times(number(self.kind.sign), self.below)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Powers(_Circular):
    """`(n + 1 - p) I_n = sign/slope f^(n-p) g + (n - p) I_(n-2)`."""

    @property
    def is_first(self) -> bool:
        """From the tenth power on where double angles would be used, from the eleventh where parts would."""
        if self.kind.parts == 1:
            return self.power >= 10 and self.power % 2 == 0
        return self.power >= 11 and self.power % 2 == 1

    def rung(self, power: int) -> Rung:
        """The formula for one power."""
        parts = self.kind.parts
        kept = power - parts + (self.habit == "power kept")
        body = product(*(part for part in (self.member(kept), self.partner) if part != Integer(1)))
        lower = power - parts + (self.habit == "number in front") if power > parts else 0
        return Rung(
            share=1 if self.habit == "not divided" else power + 1 - parts,
            terms=((self.signed(), body),),
            lower=number(-lower if self.habit == "sign" else lower),
        )

    def derive(self, working: Working, called: IndexedIntegral) -> None:
        """By parts, and the integral comes back."""
        n, parts, sign, variable = called.index, self.kind.parts, self.kind.sign, self.variable
        f, g, whole, lower = self.function, self.partner, called.symbol, called.lower(2)
        u, v = self.letters
        top, fewer = self.member(difference(n, Integer(parts))), difference(n, Integer(parts))
        # d sin^(n-1) = (n-1) sin^(n-2) cos, d sec^(n-2) = (n-2) sec^(n-3) sec tan
        turn = -sign if parts == 1 else sign
        slope = in_front(
            times(number(turn), self.rate), product(fewer, self.member(difference(n, Integer(2))), g)
        )
        working.let(u, top, slope, self.kind.integrated)
        working.let(v, in_front(self.signed(), g), raised(f, parts), say("The rest is integrated."))
        done = in_front(self.signed(), product(top, g))
        rest = number(1 if parts == 1 else -1)
        front = times(rest, factored(fewer))
        two = self.member(difference(n, Integer(2)))
        working.balance(
            whole,
            sum_of(done, before_integral(front, Integral(product(two, raised(g, 2)), variable))),
            rule="by-parts",
            reason=say(
                "The integral of {u} d{v} is {u} {v} less the integral of {v} d{u}.", u=u.name, v=v.name
            ),
        )
        square = raised(f, 2)
        identity = difference(Integer(1), square) if parts == 1 else difference(square, Integer(1))
        working.balance(
            whole,
            sum_of(done, before_integral(front, Integral(product(identity, two), variable))),
            rule="pythagorean-identity",
            reason=self.kind.identity,
        )
        working.balance(
            whole,
            sum_of(done, product(fewer, lower), Negate(product(fewer, whole))),
            rule="recurrence",
            reason=say(
                "Take the bracket apart: one integral has a power two lower, the other is the one at the start."
            ),
        )
        share = n if parts == 1 else difference(n, Integer(parts - 1))
        working.balance(
            product(share, whole),
            sum_of(done, product(fewer, lower)),
            rule="bring-over",
            reason=say("Bring it to the left side: this is the recurrence formula."),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tangents(_Circular):
    """`I_n = sign/slope f^(n-1)/(n-1) - I_(n-2)`."""

    @property
    def is_first(self) -> bool:
        """From the eighth power on, which leaves five integrals in one line."""
        return self.power >= 8

    def rung(self, power: int) -> Rung:
        """The formula for one power."""
        divided = {"not divided": 1, "number in front": power}.get(self.habit, power - 1)
        body = self.member(power if self.habit == "power kept" else power - 1)
        size = times(self.signed(), number(Fraction(1, divided)))
        return Rung(share=1, terms=((size, body),), lower=number(1 if self.habit == "sign" else -1))

    def derive(self, working: Working, called: IndexedIntegral) -> None:
        """The identity, and a power of f times its derivative."""
        n, variable = called.index, self.variable
        two, fewer = self.member(difference(n, Integer(2))), difference(n, Integer(1))
        square = raised(self.partner, 2)
        working.balance(
            called.symbol,
            Integral(product(difference(square, Integer(1)), two), variable),
            rule="pythagorean-identity",
            reason=self.kind.identity,
        )
        working.balance(
            called.symbol,
            difference(Integral(product(two, square), variable), called.lower(2)),
            rule="recurrence",
            reason=say("Take the bracket apart: the second integral has a power two lower."),
        )
        over_n = in_front(times(self.signed(), over(factored(fewer))), self.member(fewer))
        working.balance(
            called.symbol,
            difference(over_n, called.lower(2)),
            rule="power-rule",
            reason=self.kind.integrated,
        )
