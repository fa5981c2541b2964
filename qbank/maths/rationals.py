"""Rational numbers that are made once: the fraction type of the standard library, where most numbers are small.

What a worked solution reckons with is mostly whole, and comes again and again. `Fraction` goes through the kinds of its operands and
makes a new object for each result; the fractions made here look their results up among those made before. In all other respects
they are those of the library, and they are reckoned with together with them.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Any

__all__ = ["fraction"]

#: fractions that are remembered
_REMEMBERED = 1024


class Rational(Fraction):
    """A fraction whose results are looked up among those made before."""

    __slots__ = ()

    # the places themselves, for reading them is most of what is done with a fraction
    numerator: int = Fraction._numerator  # type: ignore[attr-defined]  # noqa: SLF001
    denominator: int = Fraction._denominator  # type: ignore[attr-defined]  # noqa: SLF001

    def __add__(self, other: Any) -> Any:
        if type(other) not in _EXACT:
            return super().__add__(other)
        a, b = self.denominator, other.denominator
        return fraction(self.numerator * b + other.numerator * a, a * b)

    __radd__ = __add__

    def __sub__(self, other: Any) -> Any:
        if type(other) not in _EXACT:
            return super().__sub__(other)
        a, b = self.denominator, other.denominator
        return fraction(self.numerator * b - other.numerator * a, a * b)

    def __rsub__(self, other: Any) -> Any:
        return -self + other

    def __mul__(self, other: Any) -> Any:
        if type(other) not in _EXACT:
            return super().__mul__(other)
        return fraction(self.numerator * other.numerator, self.denominator * other.denominator)

    __rmul__ = __mul__

    def __truediv__(self, other: Any) -> Any:
        if type(other) not in _EXACT:
            return super().__truediv__(other)
        return fraction(self.numerator * other.denominator, self.denominator * other.numerator)

    def __rtruediv__(self, other: Any) -> Any:
        if type(other) not in _EXACT:
            return super().__rtruediv__(other)
        return fraction(other.numerator * self.denominator, other.denominator * self.numerator)

    def __pow__(self, exponent: Any) -> Any:
        if type(exponent) is not int or exponent < 0:
            return super().__pow__(exponent)
        return fraction(self.numerator**exponent, self.denominator**exponent)

    def __neg__(self) -> Fraction:
        return fraction(-self.numerator, self.denominator)

    def __abs__(self) -> Fraction:
        return self if self.numerator >= 0 else -self

    def __eq__(self, other: object) -> bool:
        if type(other) is int:
            return self.denominator == 1 and self.numerator == other
        if type(other) is Rational:
            return self.numerator == other.numerator and self.denominator == other.denominator
        return super().__eq__(other)

    def __hash__(self) -> int:  # type: ignore[override]
        return hash(self.numerator) if self.denominator == 1 else super().__hash__()

    def __lt__(self, other: Any) -> bool:
        if type(other) in _EXACT:
            return bool(self.numerator * other.denominator < other.numerator * self.denominator)
        return super().__lt__(other)

    def __gt__(self, other: Any) -> bool:
        if type(other) in _EXACT:
            return bool(self.numerator * other.denominator > other.numerator * self.denominator)
        return super().__gt__(other)

    def __repr__(self) -> str:
        return f"Fraction({self.numerator}, {self.denominator})"


_EXACT = frozenset({int, Fraction, Rational})


@lru_cache(maxsize=_REMEMBERED)
def fraction(over: Fraction | int, under: int) -> Fraction:
    """A fraction in lowest terms: the same object for the same numbers.

    Args:
        over: a whole number, or a fraction that is to be one of these.
        under: a whole number.

    Raises:
        ZeroDivisionError: `under` is 0.

    >>> fraction(2, 4) + fraction(1, 2)
    Fraction(1, 1)
    """
    made = Rational(over, under)
    return made if made.denominator == under else fraction(made.numerator, made.denominator)
