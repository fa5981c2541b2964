"""What a number system has to offer so that `qbank.maths.forward` can walk trees in it, and how it says no.

There are three: exact quotients (`qbank.maths.exact`), rigorous balls (`qbank.maths.balls`), and the tape that records
a walk to replay it in balls at many points (`qbank.maths.tape`).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Protocol, Self, TypeVar

__all__ = ["Arithmetic", "NotSettled", "Numbers", "Undefined"]


class Arithmetic(Protocol):
    """What the numbers themselves know."""

    def __neg__(self) -> Self:
        """The opposite."""

    def __add__(self, other: Self, /) -> Self:
        """The sum."""

    def __sub__(self, other: Self, /) -> Self:
        """The difference."""

    def __mul__(self, other: Self | int, /) -> Self:
        """The product."""

    def __truediv__(self, other: Self | int, /) -> Self:
        """The quotient."""


T = TypeVar("T", bound=Arithmetic)


class NotSettled(Exception):  # noqa: N818 - an outcome, not a fault
    """A number system cannot carry on: the text says why, in one sentence."""


class Undefined(Exception):  # noqa: N818 - an outcome, not a fault
    """The expression has no real value: division by zero, the logarithm of a negative number, ..."""


class Numbers(Protocol[T]):
    """What a number system offers; its elements also know `+ - * /` with each other and with integers."""

    #: whether its numbers belong to one point, where an expression may have no value
    pointwise: bool

    def number(self, value: Fraction | int) -> T:
        """A rational number."""

    def pi(self) -> T:
        """The circle constant."""

    def letter(self, name: str) -> T:
        """The variable, or another letter."""

    def power(self, base: T, exponent: Fraction | int) -> T:
        """A real power; with an odd denominator (in lowest terms) the base may be negative."""

    def exp(self, argument: T) -> T:
        """The exponential function."""

    def ln(self, argument: T) -> T:
        """The natural logarithm of a positive argument."""

    def ln_absolute(self, argument: T) -> T:
        """The natural logarithm of the absolute value."""

    def cos_sin(self, angle: T) -> tuple[T, T]:
        """Cosine and sine of an angle in radians."""

    def arctan(self, argument: T) -> T:
        """The inverse tangent, between -pi/2 and pi/2."""

    def arcsin(self, argument: T) -> T:
        """The inverse sine, between -pi/2 and pi/2."""

    def absolute(self, argument: T) -> T:
        """The absolute value."""

    def bounded(self, argument: T) -> T:
        """The same number; at a point it is seen to be bounded, which it is not after a division by zero."""
