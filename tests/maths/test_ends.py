"""Limits of integration, their order, and the exact points between them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from flint import fmpq_poly

from qbank.maths.complex_balls import OutsideTheLanguage
from qbank.maths.ends import BadLimit, End, as_limit, middle, order, points_inside
from qbank.maths.expression import (
    INFINITY,
    PI,
    Apply,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Symbol,
    ln,
    rational,
    sin,
    sqrt,
)
from qbank.maths.growth import exact

X = Symbol("x")


@pytest.mark.parametrize(
    ("tree", "at"),
    [
        (rational(-3, 2), exact(Fraction(-3, 2))),
        (PI / 2 - 1, exact(-1, Fraction(1, 2))),
        (2 * PI**2, fmpq_poly([0, 0, 2])),
    ],
)
def test_limits_are_exact_where_they_can_be(tree: Expression, at: fmpq_poly) -> None:
    assert as_limit(tree).at == at


def test_other_limits_are_balls() -> None:
    assert (
        as_limit(sqrt(Integer(2))).ball().contains(2**0.5)
        or abs(as_limit(sqrt(Integer(2))).ball() - 2**0.5) < 1e-9
    )
    assert as_limit(INFINITY) == End(infinite=1)
    assert as_limit(Negate(INFINITY)) == End(infinite=-1)


def test_what_is_no_limit_is_said() -> None:
    with pytest.raises(BadLimit, match="no real value"):
        as_limit(sqrt(rational(-1)))
    with pytest.raises(OutsideTheLanguage):
        as_limit(Symbol("b") + 1)


def test_limits_are_put_in_order() -> None:
    ends = [as_limit(t) for t in (Negate(INFINITY), rational(-1), sqrt(Integer(2)), E, PI, INFINITY)]
    for i, left in enumerate(ends):
        for j, right in enumerate(ends):
            if i != j or not isinstance(left.at, type(ends[2].at)):
                assert order(left, right) == (j > i) - (j < i)
    with pytest.raises(BadLimit, match="too close"):
        order(as_limit(sqrt(Integer(2)) ** 2), as_limit(Integer(2)))


@pytest.mark.parametrize(
    ("tree", "inside"),
    [
        (1 / (X * (X - 1)), [0, 1]),
        (1 / (2 * X**2 + X - 1), [-1, Fraction(1, 2)]),
        (Apply("abs", 3 * X - 1), [Fraction(1, 3)]),
        (ln(X + 1) * sqrt(1 - X), [-1, 0, 1]),
        (Power(X, rational(-2)) + Power(X - 1, rational(1, 3)), [0, 1]),
        (Power(X, X), [0]),
        (Power(X - 1, Integer(2)), []),
        (1 / (X**2 - 2), []),
        (1 / sin(X), [0]),
        (sin(X), []),
        (sin(40 * X) / sin(100 * X), []),
        (Apply("tan", X**2), []),
        (1 / sin(Integer(2)), []),
        (1 / (X - 5), []),
        (1 / Integer(3), []),
    ],
)
def test_exact_points_between(tree: Expression, inside: list[Fraction]) -> None:
    found = points_inside(tree, X, as_limit(rational(-2)), as_limit(Integer(2)))
    assert [end.at for end in found] == [exact(Fraction(point)) for point in inside]


@pytest.mark.parametrize(
    ("tree", "multiples"),
    [
        (Apply("tan", X), [Fraction(1, 2), Fraction(3, 2)]),
        (Apply("cot", 2 * X), [Fraction(1, 2), Fraction(1), Fraction(3, 2)]),
        (1 / Apply("tan", X), [Fraction(1, 2), Fraction(1), Fraction(3, 2)]),
        (Apply("abs", Apply("cos", X)), [Fraction(1, 2), Fraction(3, 2)]),
        (1 / (1 + sin(X / 2)), []),
    ],
)
def test_poles_and_zeros_of_circular_functions(tree: Expression, multiples: list[Fraction]) -> None:
    found = points_inside(tree, X, as_limit(Integer(0)), as_limit(2 * PI))
    assert [end.at for end in found] == [exact(0, multiple) for multiple in multiples]


def test_a_point_that_may_be_a_limit_is_not_inside() -> None:
    two = sqrt(Integer(2)) ** 2
    assert points_inside(Apply("abs", X - 2), X, as_limit(Integer(0)), as_limit(two)) == []


def test_everything_lies_between_the_infinities() -> None:
    found = points_inside(1 / (X - 5), X, as_limit(Negate(INFINITY)), as_limit(INFINITY))
    assert [end.at for end in found] == [exact(5)]


@pytest.mark.parametrize(
    ("lower", "upper"),
    [
        (Integer(0), PI),
        (Negate(INFINITY), INFINITY),
        (Negate(INFINITY), PI),
        (PI, INFINITY),
        (Integer(1), rational(1001, 1000)),
    ],
)
def test_the_middle_lies_inside(lower: Expression, upper: Expression) -> None:
    start, end = as_limit(lower), as_limit(upper)
    inside = End(at=exact(middle(start, end)))
    assert order(start, inside) == order(inside, end) == 1
