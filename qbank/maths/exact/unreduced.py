"""A quick number system for proofs: quotients of polynomials that are never brought to lowest terms.

It shows most identities at a fraction of the cost of normal forms, and says nothing of the others. Every operation holds
at each point where its operands have values, and so do the relations of the generators,

    cos, sin(n q m)   polynomials in c = cos(q m) and s = sin(q m), where s^2 = 1 - c^2
    cos, sin(n v)     the same in c = sqrt(1 - u^2) and s = u where v = arcsin u, 1/sqrt(1 + u^2) and u c where v = arctan u
    u^(p/q)           a power of r = u^(1/q), where r^q = u
    exp(n q m)        a power of exp(q m)
    |u|               where |u|^2 = u^2

so a difference with a numerator that is zero modulo these is zero wherever both sides have values. What is too large
or would need to be taken apart is left to the system of normal forms (`NotSettled`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import lru_cache
from math import comb, floor
from typing import Any, TypeAlias

from flint import fmpq

from qbank.maths.exact.quotients import GENERATOR, GENERATORS, ONE, Polynomial, Quotient, product_of
from qbank.maths.exact.quotients import number as rational
from qbank.maths.exact.quotients import power as whole_power
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled

__all__ = ["Finer", "QuickSide", "Unreduced"]

#: one side of an identity, asked of a walk
QuickSide: TypeAlias = Callable[[Walk[Quotient]], Quotient]

#: bounds: terms of the last product of a proof; multiple of an angle or an exponent; order of a root; multiple of an arcsin
MOST_LAST_TERMS = 4000
MOST_MULTIPLE = 32
MOST_ORDER = 100
MOST_INVERSE = 8
#: numbers and letters met in both sides
MOST_LEAVES = 200

ZERO, HALF = rational(0, 1), Fraction(1, 2)
UNIT = fmpq(1)


class Finer(Exception):  # noqa: N818 - a signal between the system and its caller
    """A generator is needed in a finer unit: its place among the generators, and the unit."""

    def __init__(self, place: int, unit: fmpq) -> None:
        super().__init__(place)
        self.place = place
        self.unit = unit


class Unreduced:
    """The number system.

    Args:
        units: units of generators that come in multiples, by their places, known from earlier walks.
    """

    pointwise = False

    def __init__(self, units: Mapping[int, fmpq]) -> None:
        self._units = units
        #: (kind, what the generator is made of, its index, its unit)
        self._known: list[tuple[str, Any, Any, int, fmpq]] = []
        #: (index, order, what is zero and led by that power of the generator)
        self._relations: list[tuple[int, int, Polynomial]] = []
        self._count = self._leaves = 0
        self._angle, self._pair = ZERO, (ONE, ZERO)
        #: (the generator of an inverse function of a polynomial, its cosine and sine)
        self._inverse: list[tuple[Polynomial, Callable[[], tuple[Quotient, Quotient]]]] = []

    def number(self, value: Fraction | int) -> Quotient:
        """A rational number."""
        self._count_leaf()
        return rational(value.numerator, value.denominator)

    def pi(self) -> Quotient:
        """The circle constant."""
        return GENERATOR[self._free("pi", None)]

    def letter(self, name: str) -> Quotient:
        """The variable, or another letter."""
        self._count_leaf()
        return GENERATOR[self._free("letter", name)]

    def _count_leaf(self) -> None:
        self._leaves += 1
        if self._leaves > MOST_LEAVES:
            raise NotSettled("many numbers and letters")

    def _new(self) -> int:
        """The index of a new generator, larger than all before it."""
        self._count += 1
        if self._count > GENERATORS:
            raise NotSettled("many generators")
        return GENERATORS - self._count

    def _free(self, kind: str, first: Any, second: Any = None) -> int:
        """The index of the generator of a kind for what it is made of."""
        found = self._find(kind, first, second)
        if found is None:
            found = self._new(), UNIT
            self._known.append((kind, first, second, *found))
        return found[0]

    def _find(self, kind: str, first: Any, second: Any) -> tuple[int, fmpq] | None:
        for known, a, b, index, unit in self._known:
            if known == kind and a == first and b == second:
                return index, unit
        return None

    def _multiple(self, kind: str, argument: Quotient) -> tuple[int, int]:
        """The generator of a kind whose unit goes into an argument, and how often."""
        rate = argument.num.leading_coefficient()
        part = argument.num if rate == 1 else argument.num / rate
        found = self._find(kind, part, argument.den)
        if found is None:
            place = self._count
            index, unit = self._new(), self._units.get(place, abs(rate))
            if kind == "angle":
                self._relations.append(_circle(index, self._new()))
            self._known.append((kind, part, argument.den, index, unit))
        else:
            index, unit = found
            place = GENERATORS - 1 - index
        times = rate / unit
        if times.q != 1:
            raise Finer(place, unit / times.q)
        if abs(times) > MOST_MULTIPLE:
            raise NotSettled("a large multiple of an angle or an exponent")
        return index, int(times.p)

    def power(self, base: Quotient, exponent: Fraction | int) -> Quotient:
        """A real power; roots of odd order take negative numbers too."""
        under = exponent.denominator
        if under == 1:
            return whole_power(base, exponent.numerator)
        if base.den is not None or not base.num:
            raise NotSettled("a root of a quotient or of zero")
        whole = floor(exponent)
        return self._root(base.num, under, exponent.numerator - whole * under) * whole_power(base, whole)

    def _root(self, radicand: Polynomial, order: int, times: int) -> Quotient:
        """A power of a root; of k^n u, with a number k > 0, it is k times the n-th root of u."""
        size = abs(radicand.leading_coefficient())
        part = radicand / size
        for kind, known, of, index, before in self._known:
            if kind == "root" and of == order and known == part:
                ratio = size / before
                over, under = ratio.p.root(order), ratio.q.root(order)
                if over**order == ratio.p and under**order == ratio.q:
                    return whole_power(GENERATOR[index] * rational(int(over), int(under)), times)
        if order > MOST_ORDER:
            raise NotSettled("a root of high order")
        index = self._new()
        self._known.append(("root", part, order, index, size))
        root = GENERATOR[index]
        self._relations.append((index, order, root.num**order - radicand))
        return whole_power(root, times)

    def exp(self, argument: Quotient) -> Quotient:
        """The exponential function."""
        if not argument.num:
            return ONE
        index, times = self._multiple("exponential", argument)
        return whole_power(GENERATOR[index], times)

    def ln(self, argument: Quotient) -> Quotient:
        """The natural logarithm."""
        return GENERATOR[self._free("logarithm", argument.num, argument.den)]

    ln_absolute = ln  # the same wherever both are real

    def arctan(self, argument: Quotient) -> Quotient:
        """The inverse tangent."""
        return self._angle_of("arctan", argument, self._of_arctan)

    def arcsin(self, argument: Quotient) -> Quotient:
        """The inverse sine."""
        return self._angle_of("arcsin", argument, self._of_arcsin)

    def _angle_of(
        self, kind: str, argument: Quotient, pair: Callable[[Polynomial], tuple[Quotient, Quotient]]
    ) -> Quotient:
        """The generator for a value of an inverse function, whose cosine and sine are known where it is one of a polynomial."""
        before = self._count
        angle = GENERATOR[self._free(kind, argument.num, argument.den)]
        if self._count > before and argument.den is None:
            self._inverse.append((angle.num, lambda: pair(argument.num)))
        return angle

    def _of_arcsin(self, u: Polynomial) -> tuple[Quotient, Quotient]:
        return self.power(Quotient(1 - product_of(u, u)), HALF), Quotient(u)

    def _of_arctan(self, u: Polynomial) -> tuple[Quotient, Quotient]:
        cosine = self.power(Quotient(1 + product_of(u, u)), HALF).inverse()
        return cosine, Quotient(u) * cosine

    def absolute(self, argument: Quotient) -> Quotient:
        """The absolute value."""
        if argument.den is not None:
            raise NotSettled("the absolute value of a quotient")
        before = self._count
        index = self._free("modulus", argument.num)
        if self._count > before:
            square = GENERATOR[index].num ** 2
            self._relations.append((index, 2, square - product_of(argument.num, argument.num)))
        return GENERATOR[index]

    def cos_sin(self, angle: Quotient) -> tuple[Quotient, Quotient]:
        """Cosine and sine."""
        if angle is not self._angle:  # asked for the value and for the slope
            self._pair = self._of_inverse(angle) or (self._of_multiple(angle) if angle.num else (ONE, ZERO))
            self._angle = angle
        return self._pair

    def _of_inverse(self, angle: Quotient) -> tuple[Quotient, Quotient] | None:
        """Cosine and sine of a few times a value of an inverse function."""
        for one, pair in self._inverse:
            if angle.den is None and len(angle.num) == 1:
                times = angle.num.leading_coefficient()
                if times.q == 1 and abs(times) <= MOST_INVERSE and angle.num == one * times:
                    cosine, sine = _turned(*pair(), abs(int(times.p)))
                    return cosine, sine if times > 0 else -sine
        return None

    def _of_multiple(self, angle: Quotient) -> tuple[Quotient, Quotient]:
        index, times = self._multiple("angle", angle)
        cosine, sine = _cos_sin(index, abs(times))
        return cosine, sine if times > 0 else -sine

    def bounded(self, argument: Quotient) -> Quotient:
        """The same number."""
        return argument

    def shows_equal(self, left: QuickSide, right: QuickSide, walk: Walk[Quotient]) -> bool:
        """Whether two sides are shown to be equal by a walk in this system."""
        self._leaves = 0
        second = right(walk)
        return self.are_equal(left(walk), second)

    def are_equal(self, left: Quotient, right: Quotient) -> bool:
        """Whether two numbers are shown to be equal wherever both have values."""
        first, second, a, b = left.num, right.num, left.den, right.den
        if a is not b and a != b:
            first = first if b is None else product_of(first, b, MOST_LAST_TERMS)
            second = second if a is None else product_of(second, a, MOST_LAST_TERMS)
        if first == second:
            return True
        rest = first - second
        for index, order, relation in reversed(self._relations):
            if not rest:
                break
            times = rest.degrees()[index] // order
            if times:
                terms = len(relation) - 1
                if len(rest) * comb(times + terms - 1, times) > MOST_LAST_TERMS:
                    raise NotSettled("the expanded form grows too large")
                rest = rest % relation
        return not rest


@lru_cache(maxsize=GENERATORS)
def _circle(cosine: int, sine: int) -> tuple[int, int, Polynomial]:
    """The relation of the generators of a cosine and a sine."""
    c, s = GENERATOR[cosine].num, GENERATOR[sine].num
    return sine, 2, s * s + c * c - 1


@lru_cache(maxsize=256)
def _cos_sin(index: int, times: int) -> tuple[Quotient, Quotient]:
    """Cosine and sine of so many times an angle, in the generators of the cosine and, after it, the sine."""
    c, s = GENERATOR[index].num, GENERATOR[index - 1].num
    cosine, sine = ONE.num, ZERO.num
    for _ in range(times):
        # the sine over s is a polynomial in c
        cosine, sine = c * cosine - (1 - c * c) * sine, cosine + c * sine
    return Quotient(cosine), Quotient(sine * s)


def _turned(cosine: Quotient, sine: Quotient, times: int) -> tuple[Quotient, Quotient]:
    """Cosine and sine of so many times an angle, of which they are given."""
    c, s = cosine, sine
    for _ in range(times - 1):
        c, s = c * cosine - s * sine, s * cosine + c * sine
    return c, s
