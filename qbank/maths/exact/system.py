"""The exact number system: how powers, exponentials, logarithms, circular and inverse functions become generators.

    |f|^(p/q)        powers of one root generator r for each irreducible factor f, with r^q = |f| = (sign of f) f
    ln |f|           one logarithm generator for each irreducible factor and prime
    exp(q m)         an exponential generator for each monomial m of the exponent, at the finest multiple needed
    cos, sin(q m)    rational in t = tan(half of the finest multiple of m needed): no relation is left over
    arctan u, ...    a generator for each u up to sign

When a finer multiple is needed than a generator was made for (x/2 after x, a cube root after a square root),
`Refine` is raised with what was learnt, and the caller starts again.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import comb, floor, gcd, isqrt, lcm

from qbank.maths.balls import precision
from qbank.maths.exact.factors import factor
from qbank.maths.exact.field import Element, Field, Generator, Polynomial
from qbank.maths.exact.signs import constant_ball, sign_of, state_positive
from qbank.maths.exact.usual_angles import usual_angle
from qbank.maths.number_system import NotSettled

__all__ = ["Exact", "Learnt", "Refine"]

#: (kind, description) -> the unit that a generator has to be made with
Learnt = dict[tuple[str, str], Fraction]

HALF = Fraction(1, 2)

MOST_MULTIPLE = 256
#: learnt when angles have to be split into their terms
SPLIT_ANGLES = ("half tangent", "every term")
MOST_ROOT = 10_000
MOST_ATOMS = 24


class Refine(Exception):  # noqa: N818 - a signal between the system and its caller
    """A generator with a finer unit is needed."""

    def __init__(self, key: tuple[str, str], unit: Fraction) -> None:
        super().__init__(key)
        self.key = key
        self.unit = unit


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
        self.learnt = learnt
        self.positive = positive
        self._angles: list[tuple[Element, tuple[Element, Element]]] = []

    def number(self, value: Fraction | int) -> Element:
        """A rational number."""
        return self.field.number(value)

    def pi(self) -> Element:
        """The circle constant."""
        found = self.field.find("pi", lambda _: True)
        return self.field.element(found or self.field.add_generator("pi", constant=True, positive=True))

    def letter(self, name: str) -> Element:
        """The value of a letter at the point."""
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

    def power(self, base: Element, exponent: Fraction) -> Element:
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

    def _size_power(self, part: Polynomial, exponent: Fraction) -> Element:
        """|part|^exponent for an irreducible factor."""
        field = self.field
        generator = self._single(part)
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
        """sqrt(a + b r) as a sum of two square roots, where a, b are numbers, r^2 = c and a^2 - b^2 c is a square."""
        field = self.field
        if len(part) != 2 or part.coeffs()[1] < 0 or any(part.monoms()[1]):
            return None
        under = 1
        for index, power in enumerate(part.monoms()[0]):
            if power:
                number = self._under_square_root(index) if power == 1 else None
                if number is None:
                    return None
                under *= number
        b, a = map(int, part.coeffs())
        norm = a * a - b * b * under
        if norm < 0 or isqrt(norm) ** 2 != norm:
            return None
        greater, less = (
            self.power(field.number(Fraction(a + sign * isqrt(norm), 2)), HALF) for sign in (1, -1)
        )
        return greater + less if b > 0 else greater - less

    def _under_square_root(self, index: int) -> int | None:
        """The whole number whose square root a generator is, else None."""
        generator = self.field.generator_at(index)
        if generator.kind != "root" or generator.unit != HALF or not generator.meaning.is_constant():
            return None
        return int(generator.meaning.leading_coefficient())

    def _root(self, part: Polynomial, size: Element, exponent: Fraction) -> Generator:
        """The generator |part|^unit, with the unit dividing the exponent."""
        field = self.field
        found = field.find("root", lambda g: bool(g.meaning == part))
        if found is None:
            unit = self._unit("root", part, Fraction(1, exponent.denominator))
            constant = Element(field, part, field.one_polynomial).is_constant()
            found = field.add_generator("root", part, unit=unit, constant=constant, positive=True)
            order = unit.denominator
            field.relate(found, order, field.context.gen(found.index) ** order - size.num)
        if (exponent / found.unit).denominator != 1:
            order = lcm(found.unit.denominator, exponent.denominator)
            if order > MOST_ROOT:
                raise NotSettled("roots of very high order")
            raise Refine(("root", self._describe(part)), Fraction(1, order))
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
        generator = self._single(part)
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

    def _single(self, part: Polynomial) -> Generator | None:
        """The generator that a factor consists of, if it is one."""
        if len(part) != 1 or part.total_degree() != 1:
            return None
        return self.field.generator_at(part.degrees().index(1))

    def exp(self, argument: Element) -> Element:
        """The exponential function."""
        result = self.field.one
        for multiple, atom in self._atoms(argument):
            generator = self._single(atom.num) if atom.den.is_one() else None
            if generator is not None and generator.kind == "logarithm":
                result = result * self._size_power(generator.meaning, multiple)
            else:
                base = self._multiple("exponential", atom, multiple)
                result = result * self.field.element(base).to_the(int(multiple / base.unit))
        return result

    def _atoms(self, argument: Element) -> list[tuple[Fraction, Element]]:
        """An exponent or an angle as a sum of rational multiples of monomials over one denominator."""
        field = self.field
        num = field.reduce(argument.num)
        if len(num) > MOST_ATOMS:
            raise NotSettled("an exponent or an angle with many terms")
        content = int(argument.den.content())
        den = argument.den // content if content != 1 else argument.den
        if den.is_one():
            pieces = [(num, den)]
        else:
            # what divides evenly is split off: x t^2/(1 + t^2) + x/(1 + t^2) is to be x again
            quotient, remainder = divmod(num, den)
            pieces = [(quotient, field.one_polynomial), (remainder, den)]
        return [
            (Fraction(int(number), content), field.quotient(field.context.from_dict({powers: 1}), below))
            for piece, below in pieces
            for powers, number in piece.terms()
        ]

    def _multiple(self, kind: str, atom: Element, multiple: Fraction) -> Generator:
        """The generator of a kind for an atom, its unit dividing the multiple."""
        found = self.field.find(kind, lambda g: bool(g.meaning.same(atom)))
        if found is None:
            if kind == "half tangent":
                self._check_apart(atom)
            unit = self._unit(kind, atom, abs(multiple))
            found = self.field.add_generator(
                kind, atom, unit=unit, constant=atom.is_constant(), positive=kind == "exponential"
            )
        times = multiple / found.unit
        if times.denominator != 1:
            raise Refine((kind, self._describe(atom)), _common_unit(found.unit, multiple))
        if abs(times) > MOST_MULTIPLE:
            raise NotSettled("a large multiple of an angle or an exponent")
        return found

    def _unit(self, kind: str, meaning: Element | Polynomial, wanted: Fraction) -> Fraction:
        if not self.learnt:
            return wanted
        known = self.learnt.get((kind, self._describe(meaning)))
        return wanted if known is None else _common_unit(known, wanted)

    def _describe(self, meaning: Element | Polynomial) -> str:
        """A text that means the same in every attempt, whatever the numbering of generators."""
        if isinstance(meaning, Element):
            return f"({self._describe(meaning.num)})/({self._describe(meaning.den)})"
        at, names = self.field.generator_at, dict[int, str]()
        terms: list[str] = []
        for powers, number in meaning.terms():
            factors = [str(number)]
            for index, power in enumerate(powers):
                if power:
                    if index not in names:
                        names[index] = self._name(at(index))
                    factors.append(f"{names[index]}^{power}")
            terms.append("*".join(sorted(factors)))
        return " + ".join(sorted(terms))

    def _name(self, generator: Generator) -> str:
        meaning = generator.meaning
        inner = meaning if meaning is None or isinstance(meaning, str) else self._describe(meaning)
        return f"{generator.kind}[{generator.unit}|{inner}]"

    def cos_sin(self, angle: Element) -> tuple[Element, Element]:
        """Cosine and sine."""
        for known, pair in self._angles:
            if known is angle:
                return pair
        cosine, sine = self.field.one, self.field.zero
        for multiple, atom in self._angles_in(angle):
            c, s = self._cos_sin_atom(multiple, atom)
            cosine, sine = (
                (c, s) if sine is self.field.zero else (cosine * c - sine * s, sine * c + cosine * s)
            )
        self._angles.append((angle, (cosine, sine)))
        return cosine, sine

    def _angles_in(self, angle: Element) -> list[tuple[Fraction, Element]]:
        """The atoms of an angle; those without a meaning of their own stay together until they occur apart.

        `a + b x` is one angle as long as neither `a` nor `b x` occurs in another.
        """
        atoms = self._atoms(angle)
        if len(atoms) == 1 or self.learnt.get(SPLIT_ANGLES):
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
        generator = self._single(atom.num) if atom.den.is_one() else None
        return generator is not None and generator.kind in ("pi", "arctan", "arcsin")

    def _check_apart(self, atom: Element) -> None:
        """Angles that share a part have to be split into parts.

        Raises:
            Refine: when one of two angles with a common part is not split yet.
        """
        mine = set(atom.num.monoms())
        for generator in self.field.generators:
            other = generator.meaning
            if generator.kind == "half tangent":
                if (
                    len(mine) + len(other.num) > 2
                    and other.den == atom.den
                    and mine & set(other.num.monoms())
                ):
                    raise Refine(SPLIT_ANGLES, Fraction(1))

    def _cos_sin_atom(self, multiple: Fraction, atom: Element) -> tuple[Element, Element]:
        generator = self._single(atom.num) if atom.den.is_one() else None
        if generator is not None and generator.kind == "pi":
            found = usual_angle(self, multiple)
            if found is not None:
                return found
        if generator is not None and multiple.denominator == 1 and abs(multiple) <= MOST_MULTIPLE:
            if generator.kind == "arctan":
                over = self.power(generator.meaning * generator.meaning + 1, Fraction(-1, 2))
                return turn(over, generator.meaning * over, multiple.numerator)
            if generator.kind == "arcsin":
                cosine = self.power(1 - generator.meaning * generator.meaning, HALF)
                return turn(cosine, generator.meaning, multiple.numerator)
        unit = self._multiple("half tangent", atom, multiple)
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

    def arctan(self, argument: Element) -> Element:
        """The inverse tangent."""
        return self._inverse("arctan", argument)

    def arcsin(self, argument: Element) -> Element:
        """The inverse sine."""
        return self._inverse("arcsin", argument)

    def _inverse(self, kind: str, argument: Element) -> Element:
        """An odd inverse function: a multiple of pi where it is one, else a generator."""
        field = self.field
        if argument.is_zero():
            return field.zero
        if argument.num.leading_coefficient() < 0:
            return -self._inverse(kind, -argument)
        constant = argument.is_constant()
        if constant:
            multiple = self._usual_inverse(kind, argument)
            if multiple is not None:
                return self.pi() * field.number(multiple)
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
                cosine, sine = usual_angle(self, guess) or (field_one(self), field_one(self))
                if (sine - (argument * cosine if kind == "arctan" else argument)).is_zero():
                    return guess
        return None


def field_one(system: Exact) -> Element:
    return system.field.one


def turn(cosine: Element, sine: Element, times: int) -> tuple[Element, Element]:
    """Cos and sin of n times an angle, from those of the angle."""
    c, s = cosine, sine
    for _ in range(abs(times) - 1):
        c, s = c * cosine - s * sine, s * cosine + c * sine
    return c, (s if times > 0 else -s)


def _common_unit(left: Fraction, right: Fraction) -> Fraction:
    """The largest rational number that divides both."""
    over = gcd(left.numerator * right.denominator, right.numerator * left.denominator)
    return Fraction(over, left.denominator * right.denominator)
