"""Circular functions and their inverses in the exact system.

An angle is a sum of multiples of atoms. A multiple of pi has a cosine and a sine in square roots or a generator; the
cosine and sine of an inverse function are algebraic; for every other atom both are rational in t = tan(half of its
unit), so that no relation between cosine and sine is left to care about.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import comb
from typing import TYPE_CHECKING

from qbank.maths.balls import precision
from qbank.maths.exact.field import Element, Generator, Polynomial, ring
from qbank.maths.exact.signs import constant_ball
from qbank.maths.exact.units import Refine
from qbank.maths.exact.usual_angles import usual_angle
from qbank.maths.rationals import fraction

if TYPE_CHECKING:
    from qbank.maths.exact.system import Exact

__all__ = ["Circular"]

HALF = fraction(1, 2)
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
        self._atoms: list[Element] = []
        #: places of the atoms that are angles of the basis themselves
        self._alone: set[int] = set()
        #: independent angles, each with its multiples of the atoms
        self._basis: list[tuple[list[Fraction], Element]] = []

    def cos_sin(self, angle: Element) -> tuple[Element, Element]:
        """Cosine and sine."""
        for known, pair in self._angles:
            if known is angle or (known.num == angle.num and known.den == angle.den):
                return pair
        sign, size = self._sign_taken_out(angle)
        if sign is not None:
            cosine, sine = self.cos_sin(size)
            sine = sign * sine
        else:
            cosine, sine = self.field.one, self.field.zero
            for place, (multiple, atom) in enumerate(self._angles_in(angle)):
                c, s = self._cos_sin_atom(multiple, atom)
                cosine, sine = (cosine * c - sine * s, sine * c + cosine * s) if place else (c, s)
        self._angles.append((angle, (cosine, sine)))
        return cosine, sine

    def _sign_taken_out(self, argument: Element) -> tuple[Element | None, Element]:
        """The sign and the rest of an argument that is a sign times something: `cos |x|` is `cos x`."""
        field = self.field
        signs = [generator for generator in field.generators if generator.kind == "sign"]
        if signs and argument.num:
            powers = argument.num.term_content().degrees()
            for generator in signs:
                if powers[generator.index] == 1:
                    sign = field.context.gen(generator.index)
                    return field.element(generator), Element(field, argument.num // sign, argument.den)
        return None, argument

    def _angles_in(self, angle: Element) -> list[tuple[Fraction, Element]]:
        """The angle as a sum of multiples of angles that are independent over the rational numbers.

        `a + b x` is one of them as long as all others are independent of it or whole combinations of those there are;
        so `x + 9` and `2x + 5` need no powers of the tangent of 1/2. Failing that, all are split into their terms.
        """
        atoms = self.units.atoms(angle)
        if self.units.learnt.get(SPLIT_ANGLES):
            return atoms
        plain = [(multiple, atom) for multiple, atom in atoms if not self._is_special(atom)]
        if not plain:
            return atoms
        special = [pair for pair in atoms if self._is_special(pair[1])]
        return [*special, *self._in_basis(plain)]

    def _in_basis(self, plain: list[tuple[Fraction, Element]]) -> list[tuple[Fraction, Element]]:
        """A sum of multiples of atoms as multiples of the angles of the basis, which grows when it has to.

        Raises:
            Refine: when some of the multiples of several angles are not whole.
        """
        vector = [fraction(0, 1)] * len(self._atoms)
        for multiple, atom in plain:
            place = next((k for k, known in enumerate(self._atoms) if known.same(atom)), None)
            if place is None:
                self._atoms.append(atom)
                vector.append(multiple)
            else:
                vector[place] += multiple
                if len(plain) == 1 and place in self._alone:
                    return [(multiple, self._atoms[place])]
        found = coordinates([row for row, _ in self._basis], vector)
        if found is None:
            content, primitive = self._primitive(plain)
            if len(plain) == 1:
                self._alone.add(next(k for k, part in enumerate(vector) if part))
            self._basis.append(([part / content for part in vector], primitive))
            return [(content, primitive)]
        several = sum(map(bool, found)) > 1
        if several and any(multiple.denominator != 1 for multiple in found):
            raise Refine(SPLIT_ANGLES, fraction(1, 1))
        return [
            (multiple, angle) for multiple, (_, angle) in zip(found, self._basis, strict=True) if multiple
        ]

    def _primitive(self, plain: list[tuple[Fraction, Element]]) -> tuple[Fraction, Element]:
        """A sum of multiples of atoms as a number times an element with whole coefficients."""
        if len(plain) == 1:
            return plain[0]
        total = self.field.zero
        for multiple, atom in plain:
            total = total + atom * self.field.number(multiple)
        over, under = int(total.num.content()), int(total.den.content())
        return Fraction(over, under), Element(self.field, total.num // over, total.den // under)

    def _is_special(self, atom: Element) -> bool:
        generator = self.units.single(atom.num) if atom.den.is_one() else None
        return generator is not None and generator.kind in ("pi", "arctan", "arcsin")

    def _cos_sin_atom(self, multiple: Fraction, atom: Element) -> tuple[Element, Element]:
        generator = self.units.single(atom.num) if atom.den.is_one() else None
        if generator is not None and generator.kind == "pi":
            found = usual_angle(self.system, multiple)
            if found is not None:
                return found
        if generator is not None and multiple.denominator == 1 and abs(multiple) <= MOST_TURNS:
            if generator.kind == "arctan":
                over = self.system.power(generator.meaning * generator.meaning + 1, fraction(-1, 2))
                return turn(over, generator.meaning * over, multiple.numerator)
            if generator.kind == "arcsin":
                cosine = self.system.power(1 - generator.meaning * generator.meaning, HALF)
                return turn(cosine, generator.meaning, multiple.numerator)
        return self._from_half_tangent(*self.units.multiple("half tangent", atom, multiple))

    def _from_half_tangent(self, generator: Generator, times: int) -> tuple[Element, Element]:
        """Cos and sin of n angles: the real and imaginary parts of (1 + it)^2n / (1 + t^2)^n, in lowest terms."""
        field, n = self.field, abs(times)
        over, above, den = half_tangent_parts(field.size, generator.index, n)
        return Element(field, over, den), Element(field, above if times > 0 else -above, den)

    def inverse(self, kind: str, argument: Element) -> Element:
        """An odd inverse function: a multiple of pi where it is one, else a generator."""
        field = self.field
        if argument.is_zero():
            return field.zero
        if argument.num.leading_coefficient() < 0:
            return -self.inverse(kind, -argument)
        sign, size = self._sign_taken_out(argument)
        if sign is not None:
            return sign * self.inverse(kind, size)
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


@lru_cache(maxsize=512)
def half_tangent_parts(size: int, index: int, n: int) -> tuple[Polynomial, Polynomial, Polynomial]:
    """The real and the imaginary part of (1 + it)^2n, and (1 + t^2)^n.

    Neither part has a factor in common with the last: at t = i the parts are 2^2n/2 and, but for a power of i, the same.

    Args:
        size: of the ring of polynomials.
        index: of the generator t.
        n: how many times the unit the angle is.
    """
    context = ring(size)
    t = context.gen(index)
    parts: list[dict[tuple[int, ...], int]] = [{}, {}]
    for k in range(2 * n + 1):
        powers = [0] * size
        powers[index] = k
        parts[k % 2][tuple(powers)] = comb(2 * n, k) * (-1 if k % 4 > 1 else 1)
    return context.from_dict(parts[0]), context.from_dict(parts[1]), (1 + t * t) ** n


def turn(cosine: Element, sine: Element, times: int) -> tuple[Element, Element]:
    """Cos and sin of n times an angle, from those of the angle."""
    c, s = cosine, sine
    for _ in range(abs(times) - 1):
        c, s = c * cosine - s * sine, s * cosine + c * sine
    return c, (s if times > 0 else -s)


def coordinates(basis: list[list[Fraction]], vector: list[Fraction]) -> list[Fraction] | None:
    """The multiples of independent rows that add up to a vector; None when it is independent of them too.

    Rows may be shorter than the vector: what is missing is zero.

    >>> coordinates([[Fraction(1), Fraction(9)], [Fraction(2), Fraction(5)]], [Fraction(3), Fraction(14)])
    [Fraction(1, 1), Fraction(1, 1)]
    """
    count = len(basis)
    # one equation for each place: sum of multiples times entries = entry of the vector
    rows = [
        [*(row[k] if k < len(row) else fraction(0, 1) for row in basis), entry]
        for k, entry in enumerate(vector)
    ]
    for column in range(count):
        pivot = next(k for k in range(column, len(rows)) if rows[k][column])
        rows[column], rows[pivot] = rows[pivot], rows[column]
        lead = rows[column]
        for row in rows:
            if row is not lead and row[column]:
                factor = row[column] / lead[column]
                row[:] = [entry - factor * other for entry, other in zip(row, lead, strict=True)]
    if any(row[count] for row in rows[count:]):
        return None
    return [rows[k][count] / rows[k][k] for k in range(count)]
