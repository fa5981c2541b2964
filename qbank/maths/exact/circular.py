"""Circular functions and their inverses in the exact system.

An angle is a sum of multiples of atoms. A multiple of pi has a cosine and a sine in square roots or a generator; the
cosine and sine of an inverse function are algebraic; for every other atom both are rational in t = tan(half of its
unit), so that no relation between cosine and sine is left to care about.
"""

from __future__ import annotations

from fractions import Fraction
from math import comb
from typing import TYPE_CHECKING

from qbank.maths.balls import precision
from qbank.maths.exact.field import Element, Generator
from qbank.maths.exact.signs import constant_ball
from qbank.maths.exact.units import Refine
from qbank.maths.exact.usual_angles import usual_angle

if TYPE_CHECKING:
    from qbank.maths.exact.system import Exact

__all__ = ["Circular"]

HALF = Fraction(1, 2)
#: how many times an inverse function may be taken under a cosine
MOST_TURNS = 64
#: learnt when angles have to be split into their terms
SPLIT_ANGLES = ("half tangent", "every term")


class Circular:
    """Cosine, sine, arctan and arcsin.

    Args:
        system: the exact system that this is the circular part of.
    """

    def __init__(self, system: Exact) -> None:
        self.system = system
        self.field = system.field
        self.units = system.units
        self._angles: list[tuple[Element, tuple[Element, Element]]] = []

    def cos_sin(self, angle: Element) -> tuple[Element, Element]:
        """Cosine and sine."""
        for known, pair in self._angles:
            if known is angle:
                return pair
        cosine, sine = self.field.one, self.field.zero
        for place, (multiple, atom) in enumerate(self._angles_in(angle)):
            c, s = self._cos_sin_atom(multiple, atom)
            cosine, sine = (cosine * c - sine * s, sine * c + cosine * s) if place else (c, s)
        self._angles.append((angle, (cosine, sine)))
        return cosine, sine

    def _angles_in(self, angle: Element) -> list[tuple[Fraction, Element]]:
        """The atoms of an angle; those without a meaning of their own stay together until they occur apart.

        `a + b x` is one angle as long as neither `a` nor `b x` occurs in another.
        """
        atoms = self.units.atoms(angle)
        if len(atoms) == 1 or self.units.learnt.get(SPLIT_ANGLES):
            return atoms
        plain = [(multiple, atom) for multiple, atom in atoms if not self._is_special(atom)]
        if len(plain) < 2:
            return atoms
        total = self.field.zero
        for multiple, atom in plain:
            total = total + atom * self.field.number(multiple)
        over, under = int(total.num.content()), int(total.den.content())
        primitive = Element(self.field, total.num // over, total.den // under)
        special = [pair for pair in atoms if self._is_special(pair[1])]
        return [*special, (Fraction(over, under), primitive)]

    def _is_special(self, atom: Element) -> bool:
        generator = self.units.single(atom.num) if atom.den.is_one() else None
        return generator is not None and generator.kind in ("pi", "arctan", "arcsin")

    def _check_apart(self, atom: Element) -> None:
        """Angles that share a part have to be split into parts.

        Raises:
            Refine: when one of two angles with a common part is not split yet.
        """
        mine = set(atom.num.monoms())
        for generator in self.field.generators:
            if generator.kind == "half tangent" and generator.meaning.den == atom.den:
                theirs = set(generator.meaning.num.monoms())
                if len(mine) + len(theirs) > 2 and mine & theirs:
                    raise Refine(SPLIT_ANGLES, Fraction(1))

    def _cos_sin_atom(self, multiple: Fraction, atom: Element) -> tuple[Element, Element]:
        generator = self.units.single(atom.num) if atom.den.is_one() else None
        if generator is not None and generator.kind == "pi":
            found = usual_angle(self.system, multiple)
            if found is not None:
                return found
        if generator is not None and multiple.denominator == 1 and abs(multiple) <= MOST_TURNS:
            if generator.kind == "arctan":
                over = self.system.power(generator.meaning * generator.meaning + 1, Fraction(-1, 2))
                return turn(over, generator.meaning * over, multiple.numerator)
            if generator.kind == "arcsin":
                cosine = self.system.power(1 - generator.meaning * generator.meaning, HALF)
                return turn(cosine, generator.meaning, multiple.numerator)
        if self.field.find("half tangent", lambda g: bool(g.meaning.same(atom))) is None:
            self._check_apart(atom)
        unit = self.units.multiple("half tangent", atom, multiple)
        return self._from_half_tangent(unit, int(multiple / unit.unit))

    def _from_half_tangent(self, generator: Generator, times: int) -> tuple[Element, Element]:
        """Cos and sin of n angles: the real and imaginary parts of (1 + it)^2n / (1 + t^2)^n."""
        field, n = self.field, abs(times)
        t = field.context.gen(generator.index)
        parts: list[dict[tuple[int, ...], int]] = [{}, {}]
        for k in range(2 * n + 1):
            powers = [0] * field.size
            powers[generator.index] = k
            parts[k % 2][tuple(powers)] = comb(2 * n, k) * (-1 if k % 4 > 1 else 1)
        den = (1 + t * t) ** n
        cosine = field.quotient(field.context.from_dict(parts[0]), den)
        sine = field.quotient(field.context.from_dict(parts[1]), den)
        return cosine, (sine if times > 0 else -sine)

    def inverse(self, kind: str, argument: Element) -> Element:
        """An odd inverse function: a multiple of pi where it is one, else a generator."""
        field = self.field
        if argument.is_zero():
            return field.zero
        if argument.num.leading_coefficient() < 0:
            return -self.inverse(kind, -argument)
        constant = argument.is_constant()
        if constant:
            multiple = self._usual_inverse(kind, argument)
            if multiple is not None:
                return self.system.pi() * field.number(multiple)
        found = field.find(kind, lambda g: bool(g.meaning.same(argument)))
        return field.element(found or field.add_generator(kind, argument, constant=constant))

    def _usual_inverse(self, kind: str, argument: Element) -> Fraction | None:
        """The multiple of pi that an inverse function of a number is, when it is a usual one."""
        with precision(64):
            ball = constant_ball(argument)
            ratio = float((ball.atan() if kind == "arctan" else ball.asin()).mid()) / 3.141592653589793
        for order in (12, 10, 8):
            guess = Fraction(round(ratio * order), order) if ratio == ratio else None  # noqa: PLR0124 - nan
            if guess is not None and abs(ratio - float(guess)) < 1e-9:
                pair = usual_angle(self.system, guess)
                assert pair is not None
                goal = argument * pair[0] if kind == "arctan" else argument
                if pair[1].same(goal):
                    return guess
        return None


def turn(cosine: Element, sine: Element, times: int) -> tuple[Element, Element]:
    """Cos and sin of n times an angle, from those of the angle."""
    c, s = cosine, sine
    for _ in range(abs(times) - 1):
        c, s = c * cosine - s * sine, s * cosine + c * sine
    return c, (s if times > 0 else -s)
