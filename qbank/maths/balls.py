"""Real balls: rigorous numbers for `qbank.maths.forward`, each a midpoint with an error bound (python-flint `arb`).

Every operation keeps the true value inside the ball. An operation that may leave the real numbers (a logarithm of
a ball that is not positive, a division by a ball that holds zero) raises `Undefined` when the ball says so for
sure, and `Blurred` when a smaller ball is needed to tell: the caller tries again with more bits.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from fractions import Fraction
from typing import Any

from flint import arb, ctx, fmpq

from qbank.maths.number_system import NotSettled, Undefined

__all__ = ["Ball", "Balls", "Blurred", "precision", "to_ball"]

Ball = Any  # arb: python-flint carries no types

#: the largest index of a root that the library takes: an unsigned machine word, of 32 bits to be safe everywhere
LARGEST_INDEX = 2**31


class Blurred(NotSettled):
    """The ball is too wide to tell whether the operation is defined."""


@contextmanager
def precision(bits: int) -> Iterator[None]:
    """Work with so many bits inside the `with` block."""
    before = ctx.prec
    ctx.prec = bits
    try:
        yield
    finally:
        ctx.prec = before


def to_ball(value: Fraction | int) -> Ball:
    """The ball around a rational number at the working precision."""
    if isinstance(value, int):
        return arb(value)
    return arb(fmpq(value.numerator, value.denominator))


class Balls:
    """The number system of balls.

    Args:
        letters: the value of every letter at the point.

    Attributes:
        is_nearly_total: whether every operation so far has a smooth value for all real operands, single ones apart.
    """

    pointwise = True

    def __init__(self, letters: Mapping[str, Ball]) -> None:
        self.letters = letters
        self.is_nearly_total = True
        self._angle: Ball = None
        self._cos_sin: tuple[Ball, Ball] = (None, None)

    def number(self, value: Fraction | int) -> Ball:
        """A rational number."""
        return to_ball(value)

    def pi(self) -> Ball:
        """The circle constant."""
        return arb.pi()

    def letter(self, name: str) -> Ball:
        """The value of a letter at the point.

        Raises:
            NotSettled: it has none.
        """
        try:
            return self.letters[name]
        except KeyError:
            raise NotSettled(f"the letter {name} has no value") from None

    def power(self, base: Ball, exponent: Fraction | int) -> Ball:
        """A real power; roots of odd order take negative numbers too."""
        if exponent.denominator == 1:
            return _sharp(base) ** exponent.numerator
        self.is_nearly_total = False
        if exponent.denominator == 2:
            root = self.square_root(base)
        elif exponent.denominator % 2 == 0:
            root = _nth_root(_not_negative(base), exponent.denominator)
        else:
            root = _odd_root(_sharp(base), exponent.denominator)
        return root if exponent.numerator == 1 else root**exponent.numerator

    def square_root(self, base: Ball) -> Ball:
        """The square root."""
        return _not_negative(base).sqrt()

    def exp(self, argument: Ball) -> Ball:
        """The exponential function."""
        return _sharp(argument).exp()

    def ln(self, argument: Ball) -> Ball:
        """The natural logarithm."""
        self.is_nearly_total = False
        return _logarithm(argument)

    def ln_absolute(self, argument: Ball) -> Ball:
        """The natural logarithm of the absolute value."""
        return _logarithm(abs(argument))

    def cos_sin(self, angle: Ball) -> tuple[Ball, Ball]:
        """Cosine and sine."""
        if angle is not self._angle:  # asked for the value and for the slope
            sine, cosine = _sharp(angle).sin_cos()
            self._angle, self._cos_sin = angle, (cosine, sine)
        return self._cos_sin

    def arctan(self, argument: Ball) -> Ball:
        """The inverse tangent."""
        return _sharp(argument).atan()

    def arcsin(self, argument: Ball) -> Ball:
        """The inverse sine."""
        self.is_nearly_total = False
        if abs(argument) > 1:
            raise Undefined("the inverse sine of a number beyond 1")
        return _sharp(_sharp(argument).asin())

    def absolute(self, argument: Ball) -> Ball:
        """The absolute value."""
        self.is_nearly_total = False
        return abs(argument)

    def bounded(self, argument: Ball) -> Ball:
        """The same ball, seen to be bounded."""
        return _sharp(argument)


def _sharp(ball: Ball) -> Ball:
    """The ball itself, if it is a bounded one: an unbounded one may hide a division by zero."""
    if ball.is_finite():
        return ball
    raise Blurred("a division by zero, or too wide a ball")


def _logarithm(ball: Ball) -> Ball:
    if ball > 0:
        return ball.log()
    raise Undefined("the logarithm of a number that is not positive") if ball <= 0 else Blurred("too wide")


def _not_negative(ball: Ball) -> Ball:
    if ball >= 0:
        return ball
    raise Undefined("an even root of a negative number") if ball < 0 else Blurred("too wide")


def _nth_root(ball: Ball, index: int) -> Ball:
    """A root of a ball that is not negative; the library takes an index of one machine word only."""
    if ball.is_zero():
        return ball
    if index <= LARGEST_INDEX:
        return ball.root(index)
    return (ball.log() / index).exp()


def _odd_root(ball: Ball, index: int) -> Ball:
    if ball < 0:
        return -_nth_root(-ball, index)
    if ball > 0 or ball.is_zero():
        return _nth_root(ball, index)
    raise Blurred("the sign under an odd root")
