"""The right-angled triangle: each function of t as a number times a power of u and a power of the root S.

    u = k sin t    S = m cos t    sin t = u/k, cos t = S/m
    u = k tan t    S = m sec t    tan t = u/k, sec t = S/m, so sin t = (m/k) u/S
    u = k sec t    S = m tan t    sec t = u/k, tan t = S/m, so sin t = (k/m) S/u

Sums of such sides are a ring, in which an expression in functions of t is worked out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from typing import TypeAlias

from qbank.maths.constant_factor import ONE, times
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    product,
)
from qbank.maths.factors import Factored, power_tree
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd, square_root
from qbank.techniques.circular.circular_powers import CIRCULAR
from qbank.techniques.quadratics.completed_square import CompletedSquare, primitive
from qbank.techniques.trigonometric.kinds import SECANT, SINE, Kind

__all__ = ["NotOfTheTriangleError", "Sides", "Triangle", "added"]

#: exponents (i, j) of u and S, each with its number, which is not zero
Sides: TypeAlias = dict[tuple[int, int], Surd]

_ONE = Surd(fraction(1, 1))


class NotOfTheTriangleError(Exception):
    """Something is no sum of powers of u and S."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Triangle:
    """The triangle of one substitution.

    Attributes:
        kind: which substitution.
        letter: t.
        square: u is what it squares.
        under: the quadratic below the root S, as it was written.
        number: k.
        root_number: m.
        swapped: whether sine and cosine are read the wrong way round, a slip.
    """

    kind: Kind
    letter: Symbol
    square: CompletedSquare
    under: Expression
    number: Surd
    root_number: Surd
    swapped: bool = False

    def side(self, name: str) -> Sides:
        """One of the six functions of t."""
        inner, root = _single(self.number.reciprocal(), 1, 0), _single(self.root_number.reciprocal(), 0, 1)
        if self.kind == SINE:
            sine, cosine = inner, root
        elif self.kind == SECANT:
            sine, cosine = _times(root, _raised(inner, -1)), _raised(inner, -1)
        else:
            sine, cosine = _times(inner, _raised(root, -1)), _raised(root, -1)
        if self.swapped:
            sine, cosine = cosine, sine
        i, j = CIRCULAR[name]
        return _times(_raised(sine, i), _raised(cosine, j))

    def ratio(self, name: str) -> Expression:
        """One of the six functions of t as a ratio of sides: `sqrt(4 - x^2)/2`."""
        (((i, j), number),) = self.side(name).items()
        content, line = primitive(self.square.shift, self.square.scale)
        above, below = number.times(content**i).sides()
        base, root = polynomial_tree(line, self.square.letter), self.under
        over, under = (
            product(
                *(() if size == Integer(1) else (size,)),
                *((power_tree(base, Fraction(sign * i)),) if sign * i > 0 else ()),
                *((power_tree(root, Fraction(sign * j, 2)),) if sign * j > 0 else ()),
            )
            for sign, size in ((1, above), (-1, below))
        )
        return over if under == Integer(1) else Quotient(over, under)

    def sides(self, tree: Expression) -> Sides:
        """An expression in functions of t, multiplied out.

        Raises:
            NotOfTheTriangleError: something else stands in it.
        """
        value = as_fraction(tree)
        if value is not None:
            return _single(Surd(value), 0, 0)
        match tree:
            case Root(radicand, 2) if (inside := as_fraction(radicand)) is not None:
                root = square_root(inside)
                if root is None:
                    raise NotOfTheTriangleError
                return _single(root, 0, 0)
            case Apply(name, argument) if name in CIRCULAR and argument == self.letter:
                return self.side(name)
            case Negate(operand):
                return _times(_single(Surd(fraction(-1, 1)), 0, 0), self.sides(operand))
            case Sum(terms):
                return added(self.sides(term) for term in terms)
            case Product(factors):
                return reduce(_times, map(self.sides, factors))
            case Quotient(numerator, denominator):
                return _times(self.sides(numerator), _raised(self.sides(denominator), -1))
            case Power(base, exponent) if (n := as_fraction(exponent)) is not None and n.denominator == 1:
                return _raised(self.sides(base), int(n))
            case _:
                raise NotOfTheTriangleError

    def tree(
        self, constant: Factored, number: Surd, powers: tuple[int, int], bracket: Factored = ONE
    ) -> Expression:
        """`constant * number * u^i * bracket * S^j` in one hand."""
        i, j = powers
        content, line = primitive(self.square.shift, self.square.scale)
        base = polynomial_tree(line, self.square.letter)
        inner, root = (
            Factored(coefficient=fraction(1, 1), powers=((tree, n),) if n else ())
            for tree, n in ((base, Fraction(i)), (self.under, Fraction(j, 2)))
        )
        return times(number.times(content**i).factor(), constant, inner, bracket, root).tree()


def added(parts: Iterable[Sides]) -> Sides:
    """The sum.

    Raises:
        NotOfTheTriangleError: two numbers are not multiples of one root.
    """
    total: Sides = {}
    for place, surd in (pair for part in parts for pair in part.items()):
        total[place] = _sum(total.get(place), surd)
    return {place: surd for place, surd in total.items() if surd.rational}


def _sum(one: Surd | None, other: Surd) -> Surd:
    if one is None or not one.rational:
        return other
    if one.radicand != other.radicand:
        raise NotOfTheTriangleError
    return Surd(one.rational + other.rational, one.radicand)


def _single(number: Surd, inner: int, root: int) -> Sides:
    return {(inner, root): number}


def _times(left: Sides, right: Sides) -> Sides:
    return added(
        {(i + k, j + m): one.times(other)} for (i, j), one in left.items() for (k, m), other in right.items()
    )


def _raised(base: Sides, exponent: int) -> Sides:
    if exponent < 0:
        if len(base) != 1:
            raise NotOfTheTriangleError
        (((i, j), surd),) = base.items()
        return _raised({(-i, -j): surd.reciprocal()}, -exponent)
    return reduce(_times, (base,) * exponent, _single(_ONE, 0, 0))
