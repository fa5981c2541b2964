"""Sine and cosine written with one letter, and what a fraction of them becomes.

u = cos A       s = v, c = u              v^2 = 1 - u^2          du = -s dA
u = sin A       s = u, c = v              v^2 = 1 - u^2          du = c dA
u = tan A       s = u v, c = v            v^2 = 1/(1 + u^2)      du = (1 + u^2) dA
t = tan(A/2)    s = 2t/(1 + t^2), c = (1 - t^2)/(1 + t^2)        dt = (1 + t^2)/2 dA

u = cosh A      s = v, c = u              v^2 = u^2 - 1          du = s dA
u = sinh A      s = u, c = v              v^2 = 1 + u^2          du = c dA
u = tanh A      s = u v, c = v            v^2 = 1/(1 - u^2)      du = (1 - u^2) dA
u = e^A         s = (u^2 - 1)/(2u), c = (u^2 + 1)/(2u)           du = u dA

Every value is a + b v; the substitution fits where the a or the b of the integrand is 0, as du wants it. Multiples of
the angle are multiplied out, and e^A is c + s (the identities: NIST DLMF 4.21(iii), 4.35(iii)).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Negate,
    Power,
    Product,
    Quotient,
    Sum,
    as_fraction,
)
from qbank.maths.letter_fraction import ONE, ZERO, LetterFraction, TooLargeError, polynomial

__all__ = [
    "COSINE",
    "EXPONENTIAL",
    "HALF",
    "HYPERBOLIC_COSINE",
    "HYPERBOLIC_SINE",
    "HYPERBOLIC_TANGENT",
    "SINE",
    "TANGENT",
    "Circle",
    "Value",
    "value_of",
]

#: a fraction to a higher power, and higher multiples of the angle, are nobody's exercise
_POWER_LIMIT = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """`a + b v`."""

    a: LetterFraction
    b: LetterFraction = ZERO

    def plus(self, other: Value) -> Value:
        """The sum."""
        return Value(a=self.a.plus(other.a), b=self.b.plus(other.b))


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """What sine and cosine are in the letter; a slip changes one of these.

    Attributes:
        sine: the sine of the angle.
        cosine: its cosine.
        square: v^2.
        sum_sign: the sign of s s' in the cosine of a sum: -1 on the circle, 1 on the hyperbola.
    """

    sine: Value
    cosine: Value
    square: LetterFraction = ZERO
    sum_sign: int = -1

    def times(self, one: Value, other: Value) -> Value:
        """The product of two values."""
        if one.b == other.b == ZERO:
            return Value(a=one.a.times(other.a))
        return Value(
            a=one.a.times(other.a).plus(one.b.times(other.b).times(self.square)),
            b=one.a.times(other.b).plus(one.b.times(other.a)),
        )

    def inverse(self, one: Value) -> Value:
        """`(a - b v)/(a^2 - b^2 v^2)`.

        Raises:
            ZeroDivisionError: it is 0.
        """
        if one.b == ZERO:
            return Value(a=one.a.inverse())
        opposite = Value(a=one.a, b=one.b.times(polynomial(-1)))
        norm = self.times(one, opposite).a.inverse()
        return Value(a=opposite.a.times(norm), b=opposite.b.times(norm))

    def of_multiple(self, times: int) -> tuple[Value, Value]:
        """Sine and cosine of a multiple of the angle."""
        sine, cosine = (self.sine, self.cosine) if times else (Value(a=ZERO), Value(a=ONE))
        for _ in range(abs(times) - 1):
            sine, cosine = (
                self.times(sine, self.cosine).plus(self.times(cosine, self.sine)),
                self.times(cosine, self.cosine).plus(
                    self.times(Value(a=polynomial(self.sum_sign)), self.times(sine, self.sine))
                ),
            )
        return (self.times(Value(a=polynomial(-1)), sine) if times < 0 else sine), cosine


_U = Value(a=polynomial(0, 1))
_V = Value(a=ZERO, b=ONE)
_BELOW = polynomial(1, 0, 1).inverse()

COSINE = Circle(sine=_V, cosine=_U, square=polynomial(1, 0, -1))
SINE = Circle(sine=_U, cosine=_V, square=polynomial(1, 0, -1))
TANGENT = Circle(sine=Value(a=ZERO, b=polynomial(0, 1)), cosine=_V, square=_BELOW)
HALF = Circle(
    sine=Value(a=polynomial(0, 2).times(_BELOW)), cosine=Value(a=polynomial(1, 0, -1).times(_BELOW))
)

HYPERBOLIC_COSINE = Circle(sine=_V, cosine=_U, square=polynomial(-1, 0, 1), sum_sign=1)
HYPERBOLIC_SINE = Circle(sine=_U, cosine=_V, square=polynomial(1, 0, 1), sum_sign=1)
HYPERBOLIC_TANGENT = Circle(sine=TANGENT.sine, cosine=_V, square=polynomial(1, 0, -1).inverse(), sum_sign=1)
_TWICE = polynomial(0, 2).inverse()
EXPONENTIAL = Circle(
    sine=Value(a=polynomial(-1, 0, 1).times(_TWICE)),
    cosine=Value(a=polynomial(1, 0, 1).times(_TWICE)),
    sum_sign=1,
)


def value_of(tree: Expression, multiples: dict[Expression, int], circle: Circle) -> Value | None:
    """A fraction of sines and cosines in the letter; None when something else is left or it grows too large.

    Args:
        tree: the integrand.
        multiples: the arguments that occur, each with what multiple of the angle it is.
        circle: what sine and cosine are.
    """
    try:
        return _value(tree, multiples, circle)
    except (_OtherError, ZeroDivisionError, TooLargeError):
        return None


class _OtherError(Exception):
    """Something that is no fraction of sines and cosines."""


def _value(tree: Expression, multiples: dict[Expression, int], circle: Circle) -> Value:
    number = as_fraction(tree)
    if number is not None:
        return Value(a=polynomial(number))
    match tree:
        case Negate(operand):
            return circle.times(Value(a=polynomial(-1)), _value(operand, multiples, circle))
        case Sum(terms):
            total = Value(a=ZERO)
            for term in terms:
                total = total.plus(_value(term, multiples, circle))
            return total
        case Product(factors):
            whole = Value(a=ONE)
            for factor in factors:
                whole = circle.times(whole, _value(factor, multiples, circle))
            return whole
        case Quotient(numerator, denominator):
            under = circle.inverse(_value(denominator, multiples, circle))
            return circle.times(_value(numerator, multiples, circle), under)
        case Power(base, exponent) if base == E:
            if exponent not in multiples:
                raise _OtherError
            sine, cosine = circle.of_multiple(multiples[exponent])
            return cosine.plus(sine)
        case Power(base, exponent):
            return _power(base, as_fraction(exponent), multiples, circle)
        case Apply(function, argument) if argument in multiples:
            return _function(function, multiples[argument], circle)
        case _:
            raise _OtherError


def _power(
    base: Expression, exponent: Fraction | None, multiples: dict[Expression, int], circle: Circle
) -> Value:
    if exponent is None or exponent.denominator != 1 or abs(exponent) > _POWER_LIMIT:
        raise _OtherError
    n = int(exponent)
    one, whole = _value(base, multiples, circle), Value(a=ONE)
    for _ in range(abs(n)):
        whole = circle.times(whole, one)
    return circle.inverse(whole) if n < 0 else whole


def _function(name: str, times: int, circle: Circle) -> Value:
    if abs(times) > _POWER_LIMIT:
        raise _OtherError
    sine, cosine = circle.of_multiple(times)
    match name:
        case "sin" | "sinh":
            return sine
        case "cos" | "cosh":
            return cosine
        case "tan" | "tanh":
            return circle.times(sine, circle.inverse(cosine))
        case "cot" | "coth":
            return circle.times(cosine, circle.inverse(sine))
        case "sec" | "sech":
            return circle.inverse(cosine)
        case "cosec" | "cosech":
            return circle.inverse(sine)
        case "exp":
            return cosine.plus(sine)
        case _:
            raise _OtherError
