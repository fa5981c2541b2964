"""Units: the finest rational multiple of an angle, an exponent or a root that a generator is made for.

sin x and sin 3x are rational in tan(x/2), sin(x/2) is not. When a finer unit turns out to be needed than a generator
was made with, `Refine` is raised with what was learnt, and the whole attempt starts again (`normal_form.py`).
"""

from __future__ import annotations

from fractions import Fraction
from math import gcd

from qbank.maths.exact.field import Element, Field, Generator, Polynomial
from qbank.maths.number_system import NotSettled

__all__ = ["Learnt", "Refine", "Units"]

#: (kind, description) -> the unit that a generator has to be made with
Learnt = dict[tuple[str, str], Fraction]

MOST_MULTIPLE = 256
MOST_ATOMS = 24


class Refine(Exception):  # noqa: N818 - a signal between the system and its caller
    """A generator with a finer unit is needed."""

    def __init__(self, key: tuple[str, str], unit: Fraction) -> None:
        super().__init__(key)
        self.key = key
        self.unit = unit


class Units:
    """Finds and makes generators that come in multiples.

    Args:
        field: where the generators live.
        learnt: units known from earlier attempts.
    """

    def __init__(self, field: Field, learnt: Learnt) -> None:
        self.field = field
        self.learnt = learnt

    def single(self, part: Polynomial) -> Generator | None:
        """The generator that a factor consists of, if it is one."""
        if len(part) != 1 or part.total_degree() != 1:
            return None
        return self.field.generator_at(part.degrees().index(1))

    def atoms(self, argument: Element) -> list[tuple[Fraction, Element]]:
        """An exponent or an angle as a sum of rational multiples of monomials over one denominator."""
        field = self.field
        num = field.reduce(argument.num)
        if len(num) > MOST_ATOMS:
            raise NotSettled("an exponent or an angle with many terms")
        content, den = 1, argument.den
        if not den.is_one():
            content = int(den.content())
            den = field.one_polynomial if den.is_constant() else den // content
        if len(num) == 1 and den.is_one():
            number = num.leading_coefficient()
            atom = num if number == 1 else num // number
            return [(Fraction(int(number), content), Element(field, atom, den))]
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

    def multiple(self, kind: str, atom: Element, multiple: Fraction) -> tuple[Generator, int]:
        """The generator of a kind for an atom, and how many times its unit the multiple is."""
        found = self.field.find(kind, lambda g: bool(g.meaning.same(atom)))
        if found is None:
            unit = self.unit(kind, atom, abs(multiple))
            found = self.field.add_generator(
                kind, atom, unit=unit, constant=atom.is_constant(), positive=kind == "exponential"
            )
        times = multiple / found.unit
        if times.denominator != 1:
            raise Refine((kind, self.describe(atom)), _common_unit(found.unit, multiple))
        if abs(times) > MOST_MULTIPLE:
            raise NotSettled("a large multiple of an angle or an exponent")
        return found, times.numerator

    def unit(self, kind: str, meaning: Element | Polynomial, wanted: Fraction) -> Fraction:
        """The unit for a new generator: what is wanted, or finer when more was learnt."""
        if not self.learnt:
            return wanted
        known = self.learnt.get((kind, self.describe(meaning)))
        return wanted if known is None else _common_unit(known, wanted)

    def describe(self, meaning: Element | Polynomial) -> str:
        """A text that means the same in every attempt, whatever the numbering of generators."""
        if isinstance(meaning, Element):
            return f"({self.describe(meaning.num)})/({self.describe(meaning.den)})"
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
        inner = meaning if meaning is None or isinstance(meaning, str) else self.describe(meaning)
        return f"{generator.kind}[{generator.unit}|{inner}]"


def _common_unit(left: Fraction, right: Fraction) -> Fraction:
    """The largest rational number that divides both."""
    over = gcd(left.numerator * right.denominator, right.numerator * left.denominator)
    return Fraction(over, left.denominator * right.denominator)
