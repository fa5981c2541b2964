"""The numbers of a trigonometric substitution: what u, the root and dx are in t, and the integral in t.

    u = k f(t)      root = m g(t)      dx = k/scale f'(t) dt      m = k sqrt(factor of the quadratic)

A slip changes one of these numbers or functions, and everything after it follows.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import gcd, lcm

from qbank.maths.domain import Domain
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Differential,
    Expression,
    Integer,
    Product,
    Quotient,
    Root,
    Symbol,
    as_fraction,
    difference,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import power_tree
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd, square_root
from qbank.maths.tidying import scaled, tidy
from qbank.techniques.trigonometric.kinds import SECANT, Kind, kind_of, powers_tree
from qbank.techniques.trigonometric.quadratic_powers import QuadraticPowers, quadratic_powers
from qbank.techniques.trigonometric.triangle import Triangle

__all__ = ["TrigonometricPlan", "angle_letter", "trigonometric_plan"]

#: letters for the angle, the first that does not occur is taken
_LETTERS = tuple(map(Symbol, ("t", "w", "s", "y", "z")))


@dataclass(frozen=True, slots=True, kw_only=True)
class TrigonometricPlan:
    """The numbers of one working.

    Attributes:
        seen: the integrand.
        kind: which substitution.
        letter: t.
        number: k in u = k f(t).
        root_number: m in root = m g(t).
        root: g, the function that the root becomes.
        with_rate: whether dx is replaced; False in a slip.
    """

    seen: QuadraticPowers
    kind: Kind
    letter: Symbol
    number: Surd
    root_number: Surd
    root: str
    with_rate: bool = True

    def inner(self, name: str = "") -> Expression:
        """`k f(t)`, or k times another function."""
        return self.number.in_front_of(Apply(name or self.kind.inner, self.letter))

    def root_tree(self) -> Expression:
        """`m g(t)`."""
        return self.root_number.in_front_of(Apply(self.root, self.letter))

    def _squared_root(self) -> Expression:
        return scaled(self.root_number.square, power_tree(Apply(self.root, self.letter), fraction(2, 1)))

    def rate(self) -> Expression:
        """`k/scale f'(t)`."""
        body = powers_tree(dict(self.kind.rate), self.letter)
        return self.number.times(1 / self.seen.square.scale).in_front_of(body)

    def meaning(self, *, modulus: bool = False) -> Expression:
        """What t is in x; with the modulus of u, where that makes the answer right for negative u too."""
        ratio = replace(self.seen.square, root=self.number).ratio
        return Apply(self.kind.inverse, _over(ratio, modulus=modulus) if self.kind == SECANT else ratio)

    def triangle(self) -> Triangle:
        """The triangle for the way back."""
        return Triangle(
            kind=self.kind,
            letter=self.letter,
            square=self.seen.square,
            under=self.seen.under,
            number=self.number,
            root_number=self.root_number,
        )

    def domain(self) -> Domain | None:
        """Where the substitution is written, if not wherever the integrand is real."""
        if self.kind != SECANT:
            return None
        least = tidy(self.least())
        value = as_fraction(least)
        return Domain(lower=least if value is None else value)

    def least(self) -> Expression:
        """The end of the domain for u > k: `(k - shift)/scale`."""
        square, k = self.seen.square, self.number
        if k.radicand == 1:
            return polynomial_tree(((k.rational - square.shift) / square.scale,), square.letter)
        moved = (
            difference(k.tree(), polynomial_tree((square.shift,), square.letter))
            if square.shift
            else k.tree()
        )
        return moved if square.scale == 1 else Quotient(moved, Integer(int(square.scale)))

    def equations(self) -> tuple[Equation, ...]:
        """What x (or u), dx and the root are in t."""
        square, x = self.seen.square, self.seen.variable
        solved = self.number.times(1 / square.scale).in_front_of(Apply(self.kind.inner, self.letter))
        first = Equation(square.inside, self.inner()) if square.shift else Equation(x, solved)
        under = self.seen.under
        root = Equation(Root(under), self.root_tree())
        if self.seen.power % 2 == 0:
            root = Equation(under, self._squared_root())
        return first, Equation(Differential(x), product(self.rate(), Differential(self.letter))), root

    def written(self) -> Expression:
        """The integrand with everything replaced, nothing simplified."""
        above, below = list[Expression](), list[Expression]()
        for base, n in self.seen.moving.powers:
            if not self.seen.is_under(base):
                tree = power_tree(self._replaced(base), abs(n))
            elif self.seen.power % 2:
                tree = power_tree(self.root_tree(), abs(n) * 2)
            else:
                tree = power_tree(self._squared_root(), abs(n))
            (above if n > 0 else below).append(tree)
        body = Quotient(_side_by_side(above), _side_by_side(below)) if below else None
        return _side_by_side([*above, self.rate()] if body is None else [body, self.rate()])

    def _replaced(self, base: Expression) -> Expression:
        """A polynomial in x with x replaced."""
        square = self.seen.square
        if base == square.inside:
            return self.inner()
        x = self.inner()
        if square.shift:
            x = sum_of(x, polynomial_tree((-square.shift,), square.letter))
        if square.scale != 1:
            solved = self.number.times(1 / square.scale).in_front_of(Apply(self.kind.inner, self.letter))
            x = Quotient(x, Integer(int(square.scale))) if square.shift else solved
        return tidy(base.substitute({square.letter: x}))

    def powers(self, exponent: int) -> Mapping[str, int]:
        """The exponents of the functions that a power of u, the root and dx are."""
        found = {self.kind.inner: exponent}
        for name, n in ((self.root, self.seen.power), *(self.kind.rate if self.with_rate else ())):
            found[name] = found.get(name, 0) + n
        return found

    def in_letter(self) -> tuple[Surd, Expression]:
        """`(front, outer)`: the integral is the constant and front times the integral of outer in t."""
        power, (low, _) = self.seen.power, self.seen.terms[-1]
        front = self.root_number.to_the(power).times(self.number.to_the(low))
        if self.with_rate:
            front = front.times(self.number).times(1 / self.seen.square.scale)
        sizes = [self.number.to_the(exponent - low).times(c) for exponent, c in self.seen.terms]
        common = _common(sizes)
        trees = list[Expression]()
        for (exponent, _), size in zip(self.seen.terms, sizes, strict=True):
            tree = powers_tree(self.powers(exponent), self.letter)
            trees.append(size.times(1 / common).in_front_of(tree))
        front, outer = front.times(common), sum_of(*trees)
        return front, outer


def trigonometric_plan(integrand: Expression, variable: Symbol) -> TrigonometricPlan | None:
    """The numbers of an integrand of this kind, else None.

    >>> from qbank.maths.expression import sqrt
    >>> x = Symbol("x")
    >>> plan = trigonometric_plan(1 / (x**2 * sqrt(4 - x**2)), x)
    >>> front, outer = plan.in_letter()
    >>> front.rational, outer == Apply("cosec", Symbol("t")) ** 2
    (Fraction(1, 4), True)
    """
    seen = quadratic_powers(integrand, variable)
    outside = None if seen is None else square_root(abs(seen.square.factor))
    letter = angle_letter(integrand, variable)
    if seen is None or outside is None or letter is None:
        return None
    k, kind = seen.square.root, kind_of(seen.square)
    return TrigonometricPlan(
        seen=seen, kind=kind, letter=letter, number=k, root_number=k.times(outside), root=kind.root
    )


def angle_letter(*trees: Expression) -> Symbol | None:
    """A letter for an angle that does not occur."""
    used = frozenset[Symbol]().union(*(tree.symbols() for tree in trees))
    return next((letter for letter in _LETTERS if letter not in used), None)


def _side_by_side(factors: list[Expression]) -> Expression:
    """A product in which each factor keeps what it is: `(2 cos t)(2 cos t)`."""
    if not factors:
        return Integer(1)
    return factors[0] if len(factors) == 1 else Product(tuple(factors))


def _common(sizes: list[Surd]) -> Fraction:
    """The number to take out of the terms; with the sign of a single one."""
    below = lcm(*(size.rational.denominator for size in sizes))
    above = gcd(*(int(size.rational * below) for size in sizes))
    sign = -1 if len(sizes) == 1 and sizes[0].rational < 0 else 1
    return Fraction(above, below) * sign


def _over(ratio: Expression, *, modulus: bool = False) -> Expression:
    """One over u/k as a teacher writes it, `3/(2x)` for 2x/3, with the modulus of what moves if wanted."""
    above, below = (
        (ratio.numerator, ratio.denominator) if isinstance(ratio, Quotient) else (ratio, Integer(1))
    )
    return Quotient(below, Apply("abs", above) if modulus else above)
