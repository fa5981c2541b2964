"""One even part of a polynomial over `h^2 x^4 + b x^2 + k^2`, and its integral in closed form.

With `u = h x -+ k/x` a multiple of `h x^2 + k` is `1/(u^2 + b + 2hk) du` and one of `h x^2 - k` is `1/(u^2 + b - 2hk) du`:

    a minus before a positive number      1/(2n) ln|(h x^2 - n x -+ k)/(h x^2 + n x -+ k)|
    a plus                                two inverse tangents, one for each factor of the denominator

One inverse tangent in u would do for the last, but it jumps where x is 0; two of them hold on the whole line.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Negate,
    Power,
    Quotient,
    Symbol,
    fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd, square_root
from qbank.maths.tidying import scaled

__all__ = ["EvenPart"]

_ZERO = fraction(0, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenPart:
    """`size (h x^2 + sign k) / (h^2 x^4 + b x^2 + k^2)`.

    Attributes:
        letter: the variable.
        size: what stands in front.
        sign: 1 or -1.
        outer: h, positive.
        inner: k, positive.
        middle: b.
        number_forgotten: whether the inverse tangents are not divided by the number that is squared, a slip.
        ratio_forgotten: whether that number is not divided by inside them either, a slip.
        taken: what is subtracted from u^2 below the line when it is not what it should be, a slip.
    """

    letter: Symbol
    size: Fraction
    sign: int
    outer: Fraction
    inner: Fraction
    middle: Fraction
    number_forgotten: bool = False
    ratio_forgotten: bool = False
    taken: Fraction | None = None

    @property
    def over(self) -> Expression:
        """`h x^2 + sign k`."""
        return polynomial_tree((self.sign * self.inner, _ZERO, self.outer), self.letter)

    @property
    def under(self) -> Expression:
        """The denominator."""
        return polynomial_tree((self.inner**2, _ZERO, self.middle, _ZERO, self.outer**2), self.letter)

    @property
    def inside(self) -> Expression:
        """u, whose derivative is the numerator over x^2."""
        parts = (scaled(self.outer, self.letter), scaled(-self.sign * self.inner, 1 / self.letter))
        return sum_of(*parts)

    @property
    def below(self) -> Fraction:
        """What is subtracted from u^2 below the line."""
        right = -self.sign * 2 * self.outer * self.inner - self.middle
        return right if self.taken is None else self.taken

    @property
    def is_logarithm(self) -> bool:
        """Whether it gives a logarithm, and so holds on the whole line with u."""
        return self.below > 0

    @property
    def plus(self) -> Surd:
        """`sqrt(2hk + b)`, where that is positive."""
        return _root(2 * self.outer * self.inner + self.middle)

    @property
    def minus(self) -> Surd:
        """`sqrt(2hk - b)`, or of the number without its sign."""
        return _root(abs(2 * self.outer * self.inner - self.middle))

    @property
    def has_real_squares(self) -> bool:
        """Whether the denominator is a product of two sums of squares without a term in x."""
        return self.middle > 2 * self.outer * self.inner

    @property
    def log_root(self) -> Surd:
        """n, where u^2 - n^2 is below the line."""
        return _root(self.below)

    @property
    def log_number(self) -> Surd:
        """What stands before the logarithm."""
        return self.log_root.reciprocal().times(self.size / 2)

    def ratio(self, above: Surd) -> Expression:
        """`(h x^2 - n x -+ k)/(h x^2 + n x -+ k)`, for n or for -n."""
        return Quotient(self.factor(above.times(-1)), self.factor(above))

    def factor(self, slope: Surd) -> Expression:
        """`h x^2 + n x -+ k`, a factor of the denominator; for inverse tangents the one without roots."""
        square = scaled(self.outer, Power(self.letter, Integer(2)))
        last = -self.sign * self.inner if self.is_logarithm else self.inner
        return sum_of(square, slope.in_front_of(self.letter), rational(last))

    def terms(self) -> tuple[Expression, ...]:
        """The antiderivative, term by term."""
        if self.taken is not None and self.taken <= 0:
            return (self._in_u(self.taken),)
        if not self.is_logarithm:
            return self.inverse_tangents(self.arguments())
        number, above = self.log_number, self.log_root
        if number.rational < 0:
            number, above = number.times(-1), above.times(-1)
        ratio = self.ratio(above)
        known_positive = self.sign < 0 and self.below < 4 * self.outer * self.inner
        return (number.in_front_of(Apply("ln", ratio if known_positive else Apply("abs", ratio))),)

    def _in_u(self, number: Fraction) -> Expression:
        """The integral of `1/(u^2 - number)` for a number that is not positive, u put back."""
        x, over = self.letter, polynomial_tree((-self.sign * self.inner, _ZERO, self.outer), self.letter)
        if not number:
            return scaled(-self.size, x / over)
        root = _root(-number)
        inside = Quotient(over, root.in_front_of(x))
        return root.reciprocal().times(self.size).in_front_of(Apply("arctan", inside))

    def inverse_tangents(self, arguments: tuple[Expression, Expression]) -> tuple[Expression, ...]:
        """The two inverse tangents with their numbers in front."""
        numbers = zip(self.arctan_numbers(), arguments, strict=True)
        return tuple(number.in_front_of(Apply("arctan", argument)) for number, argument in numbers)

    def arctan_numbers(self) -> tuple[Surd, Surd]:
        """What stands before the two inverse tangents."""
        root = self.plus if self.sign > 0 else self.minus
        number = Surd(self.size) if self.number_forgotten else root.reciprocal().times(self.size)
        return number, number.times(self.sign)

    def arguments(self) -> tuple[Expression, Expression]:
        """What stands inside the inverse tangents."""
        if self.has_real_squares:
            first, second = self.lengths()
            return _over(self.letter, first), _over(self.letter, second)
        return self._argument(-1), self._argument(1)

    def lengths(self) -> tuple[Expression, Expression]:
        """P and Q, where the denominator is `(x^2 + P^2)(x^2 + Q^2)`."""
        halves = self.plus.times(fraction(1, 2)), self.minus.times(fraction(1, 2))
        size = Fraction(lcm(*(half.rational.denominator for half in halves)))
        wide = [half.times(size).tree() for half in halves]
        pair = sum_of(*wide), sum_of(wide[0], Negate(wide[1]))
        if size == 1:
            return pair
        return Quotient(pair[0], rational(size)), Quotient(pair[1], rational(size))

    def _argument(self, sign: int) -> Expression:
        """`(2h x -+ m)/s` with common numbers cancelled, multiplied out where a root of 2 is left below."""
        slope, shift, below = 2 * self.outer, self.minus, self.plus
        if self.ratio_forgotten:
            return sum_of(self.letter, shift.times(sign / slope).tree())
        # whole numbers without a common factor
        wide = lcm(slope.denominator, shift.rational.denominator, below.rational.denominator)
        parts = [int(number * wide) for number in (slope, shift.rational, below.rational)]
        common = gcd(*parts)
        line, moved, size = (Fraction(part // common) for part in parts)
        shift, below = Surd(moved, shift.radicand), Surd(size, below.radicand)
        if below.radicand > 1 and (line / below.square).denominator == 1:
            moving = below.reciprocal().times(line).in_front_of(self.letter)
            return sum_of(moving, shift.times(below.reciprocal()).times(sign).tree())
        top = sum_of(scaled(line, self.letter), shift.times(sign).tree())
        return top if below == Surd(fraction(1, 1)) else Quotient(top, below.tree())


def _root(value: Fraction) -> Surd:
    root = square_root(value)
    assert root is not None  # the plan has seen to that
    return root


def _over(letter: Symbol, length: Expression) -> Expression:
    if isinstance(length, Quotient):
        return Quotient(product(length.denominator, letter), length.numerator)
    return Quotient(letter, length)
