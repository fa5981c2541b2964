"""A quadratic with its square completed, and the two expressions that every standard integral is built from.

a x^2 + b x + c  =  factor * ((scale x + shift)^2 + number)          u = scale x + shift,  number = +-k^2

2x^2 + 8         2 (x^2 + 2^2)
4x^2 + 4x + 10   (2x + 1)^2 + 3^2                a square in front goes into the bracket when that avoids fractions
5 + 4x - x^2     3^2 - (x - 2)^2

u / k                     as the argument of an inverse function: (x + 1/2) / (sqrt(3)/2) is (2x + 1)/sqrt(3)
(u - k) / (u + k)         as the argument of a logarithm
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from qbank.maths.expression import (
    Expression,
    Integer,
    Negate,
    Power,
    Quotient,
    Sum,
    Symbol,
    fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd, square_root
from qbank.maths.tidying import scaled

__all__ = ["CompletedSquare", "complete_square", "primitive"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CompletedSquare:
    """`factor * ((scale x + shift)^2 + number)`.

    Attributes:
        letter: the variable.
        factor: what is taken out, not zero.
        scale: the coefficient of the variable inside, positive.
        shift: what is added to it inside.
        number: plus or minus k^2, not zero.
        root: k, the positive square root of the number's size.
    """

    letter: Symbol
    factor: Fraction
    scale: Fraction
    shift: Fraction
    number: Fraction
    root: Surd

    @property
    def inside(self) -> Expression:
        """u, the expression that is squared."""
        return polynomial_tree((self.shift, self.scale), self.letter)

    @property
    def body(self) -> Expression:
        """The squares without the factor: `u^2 + k^2`, `u^2 - k^2`; with a negative factor `k^2 - u^2`."""
        square, number = Power(self.inside, Integer(2)), _squared(self.root)
        if self.factor < 0:
            return Sum((number, Negate(square))) if self.number < 0 else Sum((Negate(square), Negate(number)))
        return Sum((square, Negate(number) if self.number < 0 else number))

    @property
    def tree(self) -> Expression:
        """The quadratic as it is written with the square completed."""
        return scaled(abs(self.factor), self.body)

    @property
    def untidy_ratio(self) -> Expression:
        """`u / k` with nothing cleared: `(x + 1/2) / (sqrt(3)/2)`."""
        return self.inside if self.root == Surd(fraction(1, 1)) else Quotient(self.inside, self.root.tree())

    @property
    def ratio(self) -> Expression:
        """`u / k` with the fractions cleared: `(2x + 1)/sqrt(3)`."""
        content, line = primitive(self.shift, self.scale)
        above, below = self.root.reciprocal().times(content).sides()
        if isinstance(above, Integer):
            moved = polynomial_tree(tuple(above.value * c for c in line), self.letter)
        else:
            moved = product(above, polynomial_tree(line, self.letter))
        return moved if below == Integer(1) else Quotient(moved, below)

    @property
    def bracketed(self) -> tuple[Expression, Expression]:
        """`u - k` and `u + k`, both multiplied by one number that clears the fractions."""
        content, line = primitive(self.shift, self.scale)
        root = self.root.times(1 / content)
        clear = root.rational.denominator
        size = root.times(clear)
        if size.radicand == 1:
            below, above = (
                polynomial_tree((clear * line[0] + sign * size.rational, clear * line[1]), self.letter)
                for sign in (-1, 1)
            )
            return below, above
        moved = polynomial_tree(tuple(clear * c for c in line), self.letter)
        return sum_of(moved, Negate(size.tree())), sum_of(moved, size.tree())


def complete_square(coefficients: tuple[Fraction, ...], letter: Symbol) -> CompletedSquare | None:
    """Complete the square of a quadratic.

    Args:
        coefficients: of 1, x and x^2; the last is not zero.
        letter: the variable.

    Returns:
        The completed square, or None for a perfect square (nothing is left over) and for numbers too large.

    >>> done = complete_square((Fraction(13), Fraction(4), Fraction(1)), Symbol("x"))
    >>> done.shift, done.number, done.root.rational
    (Fraction(2, 1), Fraction(9, 1), Fraction(3, 1))
    """
    c, b, a = coefficients
    factor, scale, shift = a, fraction(1, 1), b / (2 * a)
    if (c / a).denominator > 1 or shift.denominator > 1:
        outside = square_root(abs(a)) if a.denominator == 1 else None
        if outside is not None and (shift * outside.rational).denominator == 1:
            scale = outside.rational
            factor, shift = a / scale**2, shift * scale
    number = c / factor - shift**2
    root = square_root(abs(number))
    if not number or root is None:
        return None
    return CompletedSquare(letter=letter, factor=factor, scale=scale, shift=shift, number=number, root=root)


def primitive(constant: Fraction, slope: Fraction) -> tuple[Fraction, tuple[int, int]]:
    """A line `slope x + constant` as a positive number times one with whole coefficients without common factor.

    >>> primitive(Fraction(1, 2), Fraction(1))
    (Fraction(1, 2), (1, 2))
    """
    below = lcm(constant.denominator, slope.denominator)
    whole = int(constant * below), int(slope * below)
    above = gcd(*whole)
    return Fraction(above, below), (whole[0] // above, whole[1] // above)


def _squared(root: Surd) -> Expression:
    """k^2 as it is written: `2^2`, `(sqrt(3)/2)^2`, and 1 for itself."""
    return rational(1) if root == Surd(fraction(1, 1)) else Power(root.tree(), Integer(2))
