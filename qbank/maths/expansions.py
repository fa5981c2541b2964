"""Expansions for y to infinity with a bound on the rest that holds for every y beyond a start.

    f(y) = c1 g1(y) + c2 g2(y) + ... + [a, b] g(y)      for all y >= Y

The g are growths (`qbank.maths.growth`), fastest first; the last term is an enclosure: at every y its factor is some
number of the interval. Sums and products follow the scale; a function of an expansion is its Taylor polynomial at
the limit with Lagrange's remainder, whose derivative is enclosed over the whole half line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, TypeAlias

from flint import acb, arb, fmpq, fmpq_poly

from qbank.maths.complex_balls import real_power
from qbank.maths.growth import (
    ONE,
    Beyond,
    Coefficient,
    Growth,
    TooSoon,
    Undecided,
    exact,
    is_zero,
    minus,
    number,
    plus,
    times,
)
from qbank.maths.rationals import fraction

__all__ = ["Algebra", "Expansion", "as_arb", "real_power_of"]

Ball: TypeAlias = Any
Term: TypeAlias = tuple[Growth, Coefficient]

#: how many terms are carried before the remainder
_TERMS = 8


@dataclass(frozen=True, slots=True)
class Expansion:
    """Terms, fastest first, and the rest.

    Attributes:
        terms: growths with their coefficients, none zero.
        rest: a growth with the interval of its factor, or None when the terms are all there is.
    """

    terms: tuple[Term, ...] = ()
    rest: tuple[Growth, Ball] | None = None

    @property
    def lead(self) -> Growth | None:
        """The fastest growth in it; None for 0."""
        if self.terms:
            return self.terms[0][0]
        return self.rest[0] if self.rest else None


@dataclass(frozen=True, slots=True)
class Algebra:
    """Arithmetic and functions on expansions beyond one start.

    Attributes:
        beyond: the half line.
    """

    beyond: Beyond

    # ------------------------------------------------------------------ building and bounding

    def constant(self, value: Coefficient) -> Expansion:
        """A number as an expansion."""
        return self._normal([(ONE, value)], [])

    def factor(self, value: Expansion, unit: Growth) -> Ball:
        """All values of an expansion divided by a growth at least as fast.

        Raises:
            Undecided, TooSoon: when there is no such bound, or none from this start on.
        """
        total = arb(0)
        for growth, coefficient in value.terms:
            total += number(coefficient) * self.beyond.range(growth / unit)
        if value.rest:
            total += value.rest[1] * self.beyond.range(value.rest[0] / unit)
        return total

    def _normal(self, terms: Iterable[Term], rests: Iterable[tuple[Growth, Ball]]) -> Expansion:
        rest = self._one_rest(rests)
        kept = _collected(terms)
        clear: list[Term] = []
        for growth, coefficient in kept:
            if not isinstance(coefficient, fmpq_poly) and coefficient.contains(0):
                if not coefficient.is_zero():
                    rest = self._one_rest([(growth, coefficient), *([rest] if rest else [])])
            elif not is_zero(coefficient):
                clear.append((growth, coefficient))
        slow = clear[_TERMS:]
        if rest:
            slow += [term for term in clear[:_TERMS] if term[0].compare(rest[0]) <= 0]
        if slow:
            kept_ones = [term for term in clear if not any(term is other for other in slow)]
            rest = self._one_rest([*((g, number(c)) for g, c in slow), *([rest] if rest else [])])
            return self._normal(kept_ones, [rest] if rest else [])
        return Expansion(tuple(clear), rest)

    def _one_rest(self, rests: Iterable[tuple[Growth, Ball]]) -> tuple[Growth, Ball] | None:
        joined: tuple[Growth, Ball] | None = None
        for growth, size in rests:
            if joined is None:
                joined = (growth, size)
            elif growth.compare(joined[0]) > 0:
                joined = (growth, size + joined[1] * self.beyond.range(joined[0] / growth))
            else:
                joined = (joined[0], joined[1] + size * self.beyond.range(growth / joined[0]))
        return joined

    # ------------------------------------------------------------------ arithmetic

    def add(self, *values: Expansion) -> Expansion:
        """The sum."""
        return self._normal(
            [term for value in values for term in value.terms], [v.rest for v in values if v.rest]
        )

    def negative(self, value: Expansion) -> Expansion:
        """The negative."""
        rest = (value.rest[0], -value.rest[1]) if value.rest else None
        return Expansion(tuple((growth, minus(c)) for growth, c in value.terms), rest)

    def multiply(self, left: Expansion, right: Expansion) -> Expansion:
        """The product."""
        terms = [(g * h, times(c, d)) for g, c in left.terms for h, d in right.terms]
        rests: list[tuple[Growth, Ball]] = []
        for one, other in ((left, Expansion(right.terms)), (right, left)):
            if one.rest and other.lead is not None:
                rests.append((one.rest[0] * other.lead, one.rest[1] * self.factor(other, other.lead)))
        return self._normal(terms, rests)

    def divide(self, over: Expansion, under: Expansion) -> Expansion:
        """The quotient."""
        return self.multiply(over, self.power(under, fraction(-1, 1)))

    def power(self, value: Expansion, index: Fraction) -> Expansion:
        """A rational power, real: with an odd denominator of negative values too.

        Raises:
            Undecided: when the leading term may vanish or the power is not real.
        """
        if index.denominator == 1 and 0 <= index <= _TERMS:
            result = self.constant(exact(1))
            for _ in range(int(index)):
                result = self.multiply(result, value)
            return result
        if value.lead is None:
            if index > 0:
                return Expansion()
            raise Undecided("a division by 0")
        lead = value.lead**index
        if not value.terms:
            size = value.rest[1] if value.rest else arb(0)
            return Expansion((), (lead, real_power_of(size, index)))
        small = self.smaller_part(value)
        front = Expansion(((lead, _coefficient_power(value.terms[0][1], index)),))
        binomials = [fraction(1, 1)]
        for k in range(_TERMS):
            binomials.append(binomials[-1] * (index - k) / (k + 1))

        def series(at: Ball, length: int) -> list[Ball]:
            log = (1 + at).log()
            return [as_arb(binomials[k]) * (log * as_arb(index - k)).exp() for k in range(length)]

        return self.multiply(front, self.taylor(small, series, exact(0), [exact(b) for b in binomials]))

    def smaller_part(self, value: Expansion) -> Expansion:
        """The u in value = (leading term) (1 + u), with 1 + u > 0 everywhere beyond."""
        growth, coefficient = value.terms[0]
        inverse = Expansion(((growth**-1, _coefficient_power(coefficient, fraction(-1, 1))),))
        small = self.multiply(Expansion(value.terms[1:], value.rest), inverse)
        if not 1 + self.factor(small, ONE) > 0:
            raise TooSoon
        return small

    def taylor(
        self,
        small: Expansion,
        series: Callable[[Ball, int], list[Ball]],
        at: Coefficient,
        known: list[Coefficient] | None = None,
    ) -> Expansion:
        """A function at `at` plus a small expansion: Taylor's polynomial, then Lagrange's remainder.

        Args:
            small: the expansion, tending to 0 or at least bounded (then the result is one enclosure).
            series: the first so many Taylor coefficients of the function at a ball.
            at: the limit.
            known: the first Taylor coefficients exactly, as far as there are such.

        Raises:
            TooSoon: when the function is not shown to be smooth over the whole range.
        """
        known = known or []
        lead = small.lead
        if lead is None:
            return self.constant(known[0] if known else series(number(at), 1)[0])
        reach = self.factor(small, ONE)
        length = _TERMS if lead.trend < 0 else 0
        around = series(number(at) + reach.union(arb(0)), length + 1)[length]
        if not around.is_finite():
            raise TooSoon
        values = [*known[:length], *series(number(at), length)[len(known) :]]
        power, total = self.constant(exact(1)), Expansion()
        for value in values:
            total = self.add(total, self.multiply(self.constant(value), power))
            power = self.multiply(power, small)
        unit = lead**length
        return self.add(total, Expansion((), (unit, around * self.factor(power, unit))))


def as_arb(value: Fraction) -> Ball:
    """The real ball of a fraction."""
    return arb(fmpq(value.numerator, value.denominator))


def _collected(terms: Iterable[Term]) -> list[Term]:
    """The terms, fastest first, equal growths added up."""
    plain: dict[tuple[Fraction, Fraction], Coefficient] = {}
    found: list[Term] = []
    others: list[Term] = []
    for growth, coefficient in terms:
        if growth.exponent:
            others.append((growth, coefficient))
        else:
            key = (growth.power, growth.logs)
            plain[key] = plus(plain[key], coefficient) if key in plain else coefficient
    for power, logs in sorted(plain, reverse=True):
        found.append((Growth((), power, logs), plain[power, logs]))
    for growth, coefficient in others:
        found = _insert(found, growth, coefficient)
    return found


def _insert(terms: list[Term], growth: Growth, coefficient: Coefficient) -> list[Term]:
    """The terms, fastest first, with one more; equal growths are added up."""
    for place, (other, size) in enumerate(terms):
        trend = growth.compare(other)
        if trend == 0:
            return [*terms[:place], (other, plus(size, coefficient)), *terms[place + 1 :]]
        if trend > 0:
            return [*terms[:place], (growth, coefficient), *terms[place:]]
    return [*terms, (growth, coefficient)]


def _coefficient_power(value: Coefficient, index: Fraction) -> Coefficient:
    if isinstance(value, fmpq_poly) and value.degree() <= 0 and index.denominator == 1:
        return fmpq_poly([value[0] ** int(index)])
    return real_power_of(number(value), index)


def real_power_of(size: Ball, index: Fraction) -> Ball:
    """A rational power of a real ball, real where odd roots of negative numbers are meant.

    Raises:
        Undecided: when it is not real, or not finite.
    """
    power = real_power(acb(size), index, analytic=False).real
    if not power.is_finite() or (index.denominator % 2 == 0 and not size >= 0):
        raise Undecided("a power of numbers that are not shown to be positive")
    return power
