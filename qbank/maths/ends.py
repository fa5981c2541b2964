"""The ends of an integral and the exact points between them where an integrand may break.

Limits are exact where they can be, as polynomials in pi; otherwise they are balls. Between them, the rational
zeros of what stands under a root, in a logarithm or modulus, or below a fraction line are found exactly.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, pi
from typing import Any, TypeAlias

from flint import acb, fmpq, fmpq_poly

from qbank.maths.complex_balls import ball_function, exact_number
from qbank.maths.expansions import as_arb
from qbank.maths.expression import (
    INFINITY,
    PI,
    Apply,
    Expression,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Symbol,
    fraction,
)
from qbank.maths.growth import Coefficient, exact, number
from qbank.maths.polynomial import as_linear, as_polynomial

__all__ = ["BadLimit", "End", "as_limit", "as_rational", "middle", "order", "points_inside"]

Ball: TypeAlias = Any


class BadLimit(ValueError):  # noqa: N818 - says what the limits are, not what went wrong
    """A limit that has no real value, or two that cannot be told apart; the text says which."""


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """An end of a piece: a number (exact where it can be), or an infinity.

    Attributes:
        at: the number; None for an infinity.
        infinite: 1 or -1 for an infinity, else 0.
    """

    at: Coefficient = None
    infinite: int = 0

    def ball(self) -> Ball:
        """The number as a ball at the working precision."""
        return number(self.at)


def as_limit(tree: Expression) -> End:
    """The end that a limit of integration is.

    Raises:
        BadLimit: when it has no real value.
        OutsideTheLanguage: when it holds a letter.
    """
    if tree == INFINITY:
        return End(infinite=1)
    if isinstance(tree, Negate) and tree.operand == INFINITY:
        return End(infinite=-1)
    value = _polynomial_in_pi(tree)
    if value is None:
        ball = ball_function(tree, Symbol(""))(acb(0), False)
        if not ball.is_finite() or not ball.imag.contains(0):
            raise BadLimit("a limit of integration has no real value")
        value = ball.real
    return End(at=value)


def _polynomial_in_pi(tree: Expression) -> Coefficient | None:
    """A limit such as `pi/2 - 1` exactly; None when it is not a polynomial in pi."""
    letter = Symbol("pi")

    def renamed(node: Expression) -> Expression:
        return letter if node == PI else node.rebuild(renamed)

    value = exact_number(tree)
    if value is not None:
        return exact(value)
    coefficients = as_polynomial(renamed(tree), letter)
    return None if coefficients is None else fmpq_poly([as_rational(c) for c in coefficients])


def order(lower: End, upper: End) -> int:
    """1 when the lower end is below the upper one, -1 when it is above, 0 when they are equal.

    Raises:
        BadLimit: when neither is shown.
    """
    if lower.infinite or upper.infinite:
        return (upper.infinite > lower.infinite) - (upper.infinite < lower.infinite)
    gap = upper.at - lower.at if _both_exact(lower.at, upper.at) else upper.ball() - lower.ball()
    size = number(gap)
    if size > 0 or size < 0:
        return 1 if size > 0 else -1
    if size.is_zero():
        return 0
    raise BadLimit("the two limits of integration are too close to be told apart")


def _both_exact(left: Coefficient, right: Coefficient) -> bool:
    return isinstance(left, fmpq_poly) and isinstance(right, fmpq_poly)


def middle(start: End, end: End) -> Fraction:
    """A short fraction well inside a piece."""
    if start.infinite and end.infinite:
        return fraction(0, 1)
    if start.infinite:
        return Fraction(_floor(end.ball()) - 1)
    if end.infinite:
        return Fraction(_floor(start.ball()) + 2)
    low, high = start.ball(), end.ball()
    return Fraction(float(((low + high) / 2).mid())).limit_denominator(
        max(16, int(float((16 / (high - low)).mid())))
    )


def _floor(value: Ball) -> int:
    return int(float(value.floor().mid()))


def points_inside(tree: Expression, variable: Symbol, lower: End, upper: End) -> list[End]:
    """The exact points strictly inside where the integrand may break, in order.

    They are the rational zeros of what a root, logarithm, modulus or denominator holds (and of ln), and, with finite
    limits, the zeros of sines and cosines of `a x + b` there and the poles of the other circular functions.
    """
    found: dict[str, Coefficient] = {}
    parts = list(_critical_parts(tree))
    for part in parts:
        coefficients = as_polynomial(part, variable)
        if coefficients is not None and len(coefficients) > 1:
            for root in _rational_roots(fmpq_poly([as_rational(c) for c in coefficients])):
                found[str(root)] = exact(root)
    if not (lower.infinite or upper.infinite):
        for argument, quarters in _circular_zeros(tree, parts):
            for point in _turns(as_linear(argument, variable), quarters, lower, upper):
                found[str(point)] = point
    inside = [End(at=value) for value in found.values()]
    inside = [end for end in inside if _is_below(lower, end) and _is_below(end, upper)]
    return sorted(inside, key=lambda end: float(end.ball().mid()))


def _is_below(left: End, right: End) -> bool:
    """Whether one end is shown to be below another."""
    if left.infinite or right.infinite:
        return left.infinite < right.infinite
    return bool(left.ball() < right.ball())


def _critical_parts(tree: Expression) -> Iterator[Expression]:
    for node in tree.walk():
        match node:
            case Root(radicand, _):
                yield radicand
            case Apply("abs", argument):
                yield argument
            case Apply("ln", argument):
                yield argument
                yield argument - 1
            case Quotient(_, denominator):
                yield denominator
                if isinstance(denominator, Product):
                    yield from denominator.factors
            case Power(base, exponent):
                index = exact_number(exponent)
                if index is None or index.denominator > 1 or index < 0:
                    yield base


#: at which multiples of a quarter turn, modulo 2, a circular function has a pole
_POLES = {"tan": (1,), "sec": (1,), "cot": (0,), "cosec": (0,)}
#: and where, in a denominator or the like, it breaks the whole
_BREAKS = {"sin": (0,), "cos": (1,), "tan": (0, 1), "cot": (0, 1), "sec": (1,), "cosec": (0,)}
#: an angle that turns more often than this is left to bisection
_MOST_TURNS = 64


def _circular_zeros(
    tree: Expression, parts: list[Expression]
) -> Iterator[tuple[Expression, tuple[int, ...]]]:
    for table, places in ((_POLES, [tree]), (_BREAKS, parts)):
        for place in places:
            for node in place.walk():
                if isinstance(node, Apply) and node.function in table:
                    yield node.argument, table[node.function]


def _turns(
    line: tuple[Fraction, Fraction] | None, quarters: tuple[int, ...], lower: End, upper: End
) -> Iterator[Coefficient]:
    """The points where `a x + b` is a wanted multiple of pi/2, exactly."""
    if line is None or not line[0]:
        return
    slope, shift = line
    ends = [float((as_arb(slope) * end.ball() + as_arb(shift)).mid()) / (pi / 2) for end in (lower, upper)]
    least, most = min(ends), max(ends)
    if most - least <= _MOST_TURNS:
        for k in range(floor(least), ceil(most) + 1):
            if k % 2 in quarters:
                yield exact(-shift / slope, Fraction(k, 2) / slope)


def _rational_roots(polynomial: Any) -> Iterator[Fraction]:
    for factor, _ in polynomial.factor()[1]:
        if factor.degree() == 1:
            root = -factor[0] / factor[1]
            yield Fraction(int(root.p), int(root.q))


def as_rational(value: Fraction) -> Any:
    """A fraction as python-flint's exact rational."""
    return fmpq(value.numerator, value.denominator)
