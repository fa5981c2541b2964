"""A proper fraction as a sum of simple ones: which there are, and their numerators.

(5x + 1)/((x - 1)(x + 2))    =  2/(x - 1) + 3/(x + 2)
1/(x^2 (x + 1))              =  -1/x + 1/x^2 + 1/(x + 1)
(x + 5)/((x - 1)(x^2 + 1))   =  3/(x - 1) - (3x + 2)/(x^2 + 1)
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain

from qbank.maths.expression import Expression, Integer, Power, Symbol
from qbank.maths.polynomial import divided_by, polynomial_tree

__all__ = ["Bracket", "Simple", "product_of", "simple_fractions", "without"]

Coefficients = tuple[Fraction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket:
    """A factor of the denominator, with its exponent.

    Attributes:
        factor: whole coefficients, lowest first; linear, or quadratic without rational roots.
        exponent: how often it occurs.
    """

    factor: tuple[int, ...]
    exponent: int = 1

    @property
    def root(self) -> Fraction | None:
        """The root of a linear factor."""
        return Fraction(-self.factor[0], self.factor[1]) if len(self.factor) == 2 else None

    def tree(self, letter: Symbol) -> Expression:
        """The factor with its exponent, as it stands below the line."""
        base = polynomial_tree(self.factor, letter)
        return base if self.exponent == 1 else Power(base, Integer(self.exponent))

    def coefficients(self) -> Coefficients:
        """The factor with its exponent, multiplied out."""
        return product_of((tuple(map(Fraction, self.factor)),) * self.exponent)


@dataclass(frozen=True, slots=True, kw_only=True)
class Simple:
    """One simple fraction, `top / factor^exponent`.

    Attributes:
        below: the factor with the exponent that it has here.
        top: the numerator, lowest first, one number over a linear factor and two over a quadratic.
    """

    below: Bracket
    top: Coefficients


def simple_fractions(over: Coefficients, brackets: tuple[Bracket, ...]) -> tuple[Simple, ...]:
    """The simple fractions that a proper fraction is the sum of, those with numerator 0 included.

    Args:
        over: the numerator, lowest first.
        brackets: the factors of the denominator, all different.

    >>> found = simple_fractions((Fraction(1), Fraction(5)), (Bracket(factor=(-1, 1)), Bracket(factor=(2, 1))))
    >>> [one.top for one in found]
    [(Fraction(2, 1),), (Fraction(3, 1),)]
    """
    whole = product_of(tuple(b.coefficients() for b in brackets))
    places = [
        (Bracket(factor=b.factor, exponent=n), degree)
        for b in brackets
        for n in range(1, b.exponent + 1)
        for degree in range(len(b.factor) - 1)
    ]
    columns = [(Fraction(0),) * degree + without(whole, below) for below, degree in places]
    numbers = iter(_solved(columns, over, len(whole) - 1))
    return tuple(_grouped(places, numbers))


def without(whole: Coefficients, below: Bracket) -> Coefficients:
    """A product divided by one of its factors."""
    return divided_by(whole, below.coefficients())[0]


def product_of(parts: tuple[Coefficients, ...]) -> Coefficients:
    """The product of polynomials; 1 of none."""
    result: Coefficients = (Fraction(1),)
    for part in parts:
        terms = [Fraction(0)] * (len(result) + len(part) - 1)
        for i, a in enumerate(result):
            for j, b in enumerate(part):
                terms[i + j] += a * b
        result = tuple(terms)
    return result


def _grouped(places: list[tuple[Bracket, int]], numbers: Iterator[Fraction]) -> Iterator[Simple]:
    tops: dict[Bracket, list[Fraction]] = {}
    for below, _ in places:
        tops.setdefault(below, []).append(next(numbers))
    for below, top in tops.items():
        yield Simple(below=below, top=tuple(top))


def _solved(columns: list[Coefficients], wanted: Coefficients, size: int) -> list[Fraction]:
    """The numbers by which the columns are multiplied so that they add up to what is wanted."""
    padded = [list(c) + [Fraction(0)] * (size - len(c)) for c in chain(columns, (wanted,))]
    rows = [list(row) for row in zip(*padded, strict=True)]
    for place in range(size):
        pivot = next(i for i in range(place, size) if rows[i][place])
        rows[place], rows[pivot] = rows[pivot], rows[place]
        rows[place] = [c / rows[place][place] for c in rows[place]]
        for i in range(size):
            if i != place:
                times = rows[i][place]
                rows[i] = [c - times * d for c, d in zip(rows[i], rows[place], strict=True)]
    return [row[-1] for row in rows]
