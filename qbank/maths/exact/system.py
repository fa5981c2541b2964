"""The exact number system: how powers, exponentials, logarithms, circular and inverse functions become generators.

|f|^(p/q)        powers of one root generator r for each irreducible factor f, with r^q = |f| = (sign of f) f
ln |f|           one logarithm generator for each irreducible factor and prime
exp(q m)         an exponential generator for each monomial m of the exponent, at the finest multiple needed
cos, sin(q m)    rational in t = tan(half of the finest multiple of m needed): no relation is left over
arctan u, ...    a generator for each u up to sign
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import count, repeat
from math import floor, lcm

from qbank.maths.exact.circular import Circular
from qbank.maths.exact.factors import factor
from qbank.maths.exact.field import Element, Field, Generator, Polynomial
from qbank.maths.exact.signs import sign_of, state_positive
from qbank.maths.exact.units import Learnt, Refine, Units
from qbank.maths.number_system import NotSettled
from qbank.maths.rationals import fraction

__all__ = ["Exact"]

HALF = fraction(1, 2)
MOST_ROOT = 10_000


class Exact:
    """The number system of exact quotients.

    Args:
        field: where the generators live.
        learnt: units known from earlier attempts.
        positive: letters that take positive values only.
    """

    pointwise = False

    def __init__(self, field: Field, learnt: Learnt, positive: frozenset[str] = frozenset()) -> None:
        self.field = field
        self.units = Units(field, learnt)
        self.positive = positive
        self.circular = Circular(self)

    def number(self, value: Fraction | int) -> Element:
        """A rational number."""
        return self.field.number(value)

    def pi(self) -> Element:
        """The circle constant."""
        found = self.field.find("pi", lambda _: True)
        return self.field.element(found or self.field.add_generator("pi", constant=True, positive=True))

    def letter(self, name: str) -> Element:
        """The variable, or another letter."""
        found = self.field.find("letter", lambda g: bool(g.meaning == name))
        if found is None:
            found = self.field.add_generator("letter", name, positive=name in self.positive)
        return self.field.element(found)

    def absolute(self, argument: Element) -> Element:
        """The absolute value."""
        if argument.is_zero():
            return argument
        sign, parts = factor(argument)
        return argument * self._sign(sign, parts)

    def bounded(self, argument: Element) -> Element:
        """The same element: a quotient has no bounds to see."""
        return argument

    def _sign(self, sign: int, parts: Iterable[tuple[Polynomial, int]]) -> Element:
        result = self.field.number(sign)
        for part, power in parts:
            if power % 2:
                result = result * sign_of(self.field, part)
        return result

    def power(self, base: Element, exponent: Fraction | int) -> Element:
        """A real power; roots of odd order take negative numbers too."""
        if exponent.denominator == 1:
            return base.to_the(exponent.numerator)
        if exponent.denominator > MOST_ROOT:
            raise NotSettled("a root of very high order")
        if exponent > 0 and base.is_zero():
            return self.field.zero
        sign, parts = factor(base)
        whole = self._sign(sign, parts)
        result = self.field.one
        if exponent.denominator % 2 == 0:
            state_positive(self.field, whole)
        elif exponent.numerator % 2:
            result = whole
        for part, power in parts:
            result = result * self._size_power(part, power * exponent)
        return result

    def _size_power(self, part: Polynomial, exponent: Fraction | int) -> Element:
        """|part|^exponent for an irreducible factor."""
        field = self.field
        generator = self.units.single(part)
        if generator is not None and generator.kind == "exponential":
            return self.exp(generator.meaning * field.number(generator.unit * exponent))
        if generator is not None and generator.kind == "root":
            return self._size_power(generator.meaning, exponent * generator.unit)
        if generator is not None and generator.kind == "sign":
            return field.one
        whole = floor(exponent)
        rest = exponent - whole
        size = sign_of(field, part) * Element(field, part, field.one_polynomial)
        result = size.to_the(whole)
        if rest == HALF:
            simple = self._without_nesting(part)
            if simple is not None:
                return result * simple
        if rest:
            root = self._root(part, size, rest)
            result = result * field.element(root).to_the(int(rest / root.unit))
        return result

    def _without_nesting(self, part: Polynomial) -> Element | None:
        """sqrt(a + t) as a sum of two square roots, where t is a number times square roots and a^2 - t^2 = d^2.

        Wherever a + t is positive so is a - t, and a is at least |d|, so both roots are real:
        sqrt(a + t) = sqrt((a + |d|)/2) + (sign of t) sqrt((a - |d|)/2).
        """
        field = self.field
        nested = [powers for powers in part.monoms() if any(map(self._is_square_root, count(), powers))]
        if len(nested) != 1 or not all(map(self._is_square_root, count(), nested[0], repeat(True))):
            return None
        number = part[nested[0]]
        term = field.context.from_dict({nested[0]: number})
        rest = part - term
        norm = field.reduce(rest * rest - term * term)
        if not rest or not norm or not sign_of(field, part).same(field.one):
            return None
        sign, parts = factor(Element(field, norm, field.one_polynomial))
        if sign < 0 or any(power % 2 for _, power in parts):
            return None
        halves = [(factor_of_norm, power // 2) for factor_of_norm, power in parts]
        d = field.one
        for factor_of_norm, power in halves:
            d = d * Element(field, factor_of_norm, field.one_polynomial).to_the(power)
        a = Element(field, rest, field.one_polynomial)
        greater, less = (self.power((a + turn * d) / 2, HALF) for turn in (1, -1))
        return greater + less if number > 0 else (greater - less) * self._sign(1, halves)

    def _is_square_root(self, index: int, power: int, absent: bool = False) -> bool:
        """Whether a generator to a power is a square root, or, where that will do, is absent."""
        if not power:
            return absent
        generator = self.field.generator_at(index)
        return power == 1 and generator.kind == "root" and generator.unit == HALF

    def _root(self, part: Polynomial, size: Element, exponent: Fraction | int) -> Generator:
        """The generator |part|^unit, with the unit dividing the exponent."""
        field = self.field
        found = field.find("root", lambda g: bool(g.meaning == part))
        if found is None:
            unit = self.units.unit("root", part, Fraction(1, exponent.denominator))
            constant = Element(field, part, field.one_polynomial).is_constant()
            found = field.add_generator("root", part, unit=unit, constant=constant, positive=True)
            order = unit.denominator
            field.relate(found, order, field.context.gen(found.index) ** order - size.num)
        if (exponent / found.unit).denominator != 1:
            order = lcm(found.unit.denominator, exponent.denominator)
            if order > MOST_ROOT:
                raise NotSettled("roots of very high order")
            raise Refine(("root", self.units.describe(part)), Fraction(1, order))
        return found

    def ln(self, argument: Element) -> Element:
        """The natural logarithm."""
        sign, parts = factor(argument)
        state_positive(self.field, self._sign(sign, parts))
        return self._logarithm(parts)

    def ln_absolute(self, argument: Element) -> Element:
        """The natural logarithm of the absolute value."""
        return self._logarithm(factor(argument)[1])

    def _logarithm(self, parts: Iterable[tuple[Polynomial, int]]) -> Element:
        total = self.field.zero
        for part, power in parts:
            total = total + self._size_logarithm(part) * power
        return total

    def _size_logarithm(self, part: Polynomial) -> Element:
        """Ln |part| for an irreducible factor."""
        field = self.field
        generator = self.units.single(part)
        if generator is not None:
            if generator.kind == "exponential":
                return generator.meaning * field.number(generator.unit)  # type: ignore[no-any-return]
            if generator.kind == "root":
                return self._size_logarithm(generator.meaning) * field.number(generator.unit)
            if generator.kind == "sign":
                return field.zero
        found = field.find("logarithm", lambda g: bool(g.meaning == part))
        if found is None:
            constant = Element(field, part, field.one_polynomial).is_constant()
            found = field.add_generator("logarithm", part, constant=constant)
        return field.element(found)

    def exp(self, argument: Element) -> Element:
        """The exponential function."""
        result = self.field.one
        for multiple, atom in self.units.atoms(argument):
            generator = self.units.single(atom.num) if atom.den.is_one() else None
            if generator is not None and generator.kind == "logarithm":
                result = result * self._size_power(generator.meaning, multiple)
            else:
                base, times = self.units.multiple("exponential", atom, multiple)
                result = result * self.field.element(base).to_the(times)
        return result

    def cos_sin(self, angle: Element) -> tuple[Element, Element]:
        """Cosine and sine."""
        return self.circular.cos_sin(angle)

    def arctan(self, argument: Element) -> Element:
        """The inverse tangent."""
        return self.circular.inverse("arctan", argument)

    def arcsin(self, argument: Element) -> Element:
        """The inverse sine."""
        return self.circular.inverse("arcsin", argument)
