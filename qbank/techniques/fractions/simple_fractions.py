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
from typing import Generic, TypeVar

from qbank.maths.expression import Expression, Integer, Power
from qbank.maths.parametric import Parametric
from qbank.maths.polynomial import divided_by

__all__ = ["Bracket", "Scalar", "Simple", "product_of", "simple_fractions", "without"]

#: the numbers of a fraction, those with letters in them too
Scalar = TypeVar("Scalar", Fraction, Parametric)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket(Generic[Scalar]):
    """A factor of the denominator, with its exponent.

    Attributes:
        factor: coefficients, lowest first; linear, or quadratic without roots of the same kind.
        base: the factor as it is written.
        exponent: how often it occurs.
    """

    factor: tuple[Scalar, ...]
    base: Expression
    exponent: int = 1

    @property
    def root(self) -> Scalar | None:
        """The root of a linear factor."""
        return -self.factor[0] / self.factor[1] if len(self.factor) == 2 else None

    def tree(self) -> Expression:
        """The factor with its exponent, as it stands below the line."""
        return self.base if self.exponent == 1 else Power(self.base, Integer(self.exponent))

    def coefficients(self) -> tuple[Scalar, ...]:
        """The factor with its exponent, multiplied out."""
        return product_of((self.factor,) * self.exponent)


@dataclass(frozen=True, slots=True, kw_only=True)
class Simple(Generic[Scalar]):
    """One simple fraction, `top / factor^exponent`.

    Attributes:
        below: the factor with the exponent that it has here.
        top: the numerator, lowest first, one number over a linear factor and two over a quadratic.
    """

    below: Bracket[Scalar]
    top: tuple[Scalar, ...]


def simple_fractions(
    over: tuple[Scalar, ...], brackets: tuple[Bracket[Scalar], ...]
) -> tuple[Simple[Scalar], ...]:
    """The simple fractions that a proper fraction is the sum of, those with numerator 0 included.

    Args:
        over: the numerator, lowest first; not 0.
        brackets: the factors of the denominator, all different.

    >>> from qbank.maths.expression import Symbol
    >>> x, one = Symbol("x"), Fraction(1)
    >>> first, second = Bracket(factor=(-one, one), base=x - 1), Bracket(factor=(2 * one, one), base=x + 2)
    >>> [simple.top for simple in simple_fractions((one, 5 * one), (first, second))]
    [(Fraction(2, 1),), (Fraction(3, 1),)]
    """
    whole = product_of(tuple(b.coefficients() for b in brackets))
    zero = over[0] * 0
    places = [
        (Bracket(factor=b.factor, base=b.base, exponent=n), degree)
        for b in brackets
        for n in range(1, b.exponent + 1)
        for degree in range(len(b.factor) - 1)
    ]
    columns = [(zero,) * degree + without(whole, below) for below, degree in places]
    numbers = iter(_solved(columns, over, len(whole) - 1))
    return tuple(_grouped(places, numbers))


def without(whole: tuple[Scalar, ...], below: Bracket[Scalar]) -> tuple[Scalar, ...]:
    """A product divided by one of its factors."""
    return divided_by(whole, below.coefficients())[0]


def product_of(parts: tuple[tuple[Scalar, ...], ...]) -> tuple[Scalar, ...]:
    """The product of some polynomials, at least one."""
    result = parts[0]
    for part in parts[1:]:
        terms = [part[0] * 0] * (len(result) + len(part) - 1)
        for i, a in enumerate(result):
            for j, b in enumerate(part):
                terms[i + j] = terms[i + j] + a * b
        result = tuple(terms)
    return result


def _grouped(
    places: list[tuple[Bracket[Scalar], int]], numbers: Iterator[Scalar]
) -> Iterator[Simple[Scalar]]:
    tops: dict[Bracket[Scalar], list[Scalar]] = {}
    for below, _ in places:
        tops.setdefault(below, []).append(next(numbers))
    for below, top in tops.items():
        yield Simple(below=below, top=tuple(top))


def _solved(columns: list[tuple[Scalar, ...]], wanted: tuple[Scalar, ...], size: int) -> list[Scalar]:
    """The numbers by which the columns are multiplied so that they add up to what is wanted."""
    zero = wanted[0] * 0
    padded = [list(c) + [zero] * (size - len(c)) for c in chain(columns, (wanted,))]
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
