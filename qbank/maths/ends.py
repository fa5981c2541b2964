"""The ends of an integral and the exact points between them where an integrand may break.

Limits are exact where they can be, as polynomials in pi; otherwise they are balls. Between them, the rational
zeros of what stands under a root, in a logarithm or modulus, or below a fraction line are found exactly.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, TypeAlias

from flint import acb, arb, fmpq, fmpq_poly

from qbank.maths.complex_balls import ball_function, exact_number
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
)
from qbank.maths.growth import Coefficient, exact, number
from qbank.maths.polynomial import as_polynomial

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
        return Fraction(0)
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


def points_inside(tree: Expression, variable: Symbol, lower: End, upper: End) -> Iterator[End]:
    """The rational points strictly inside where a modulus, root, logarithm or denominator vanishes, in order."""
    roots: set[Fraction] = set()
    for part in _critical_parts(tree):
        coefficients = as_polynomial(part, variable)
        if coefficients is not None and len(coefficients) > 1:
            roots.update(_rational_roots(fmpq_poly([as_rational(c) for c in coefficients])))
    for root in sorted(roots):
        place = arb(as_rational(root))
        if (lower.infinite or place > lower.ball()) and (upper.infinite or place < upper.ball()):
            yield End(at=exact(root))


def _critical_parts(tree: Expression) -> Iterator[Expression]:
    for node in tree.walk():
        match node:
            case Root(radicand, _):
                yield radicand
            case Apply("abs" | "ln", argument):
                yield argument
            case Quotient(_, denominator):
                yield denominator
                if isinstance(denominator, Product):
                    yield from denominator.factors
            case Power(base, exponent):
                index = exact_number(exponent)
                if index is None or index.denominator > 1 or index < 0:
                    yield base


def _rational_roots(polynomial: Any) -> Iterator[Fraction]:
    for factor, _ in polynomial.factor()[1]:
        if factor.degree() == 1:
            root = -factor[0] / factor[1]
            yield Fraction(int(root.p), int(root.q))


def as_rational(value: Fraction) -> Any:
    """A fraction as python-flint's exact rational."""
    return fmpq(value.numerator, value.denominator)
