"""Trees on complex balls: real values as mpmath has them, and no value across a pole, cut or corner."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import mpmath
import pytest
from flint import acb, arb
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.complex_balls import OutsideTheLanguage, ball_function, exact_number
from qbank.maths.expression import (
    PI,
    Apply,
    Decimal,
    Differential,
    E,
    Expression,
    Integer,
    Power,
    Root,
    Symbol,
    exp,
    ln,
    rational,
    sqrt,
)
from qbank.maths.functions import FUNCTIONS

X = Symbol("x")

#: the function in mpmath, and a real point of its domain; arccot is the continuous one, from 0 to pi
OUTSIDE = {
    "sin": ("sin", 0.7),
    "cos": ("cos", 0.7),
    "tan": ("tan", 0.7),
    "sec": ("sec", 0.7),
    "cosec": ("csc", 0.7),
    "cot": ("cot", 0.7),
    "arcsin": ("asin", 0.3),
    "arccos": ("acos", 0.3),
    "arctan": ("atan", 0.3),
    "arcsec": ("asec", -2.5),
    "arccosec": ("acsc", -2.5),
    "arccot": ("acot", 0.6),
    "sinh": ("sinh", 0.7),
    "cosh": ("cosh", 0.7),
    "tanh": ("tanh", 0.7),
    "sech": ("sech", 0.7),
    "cosech": ("csch", 0.7),
    "coth": ("coth", 0.7),
    "arsinh": ("asinh", -0.6),
    "arcosh": ("acosh", 1.5),
    "artanh": ("atanh", 0.4),
    "arsech": ("asech", 0.4),
    "arcosech": ("acsch", 0.4),
    "arcoth": ("acoth", 2.5),
    "exp": ("exp", -0.5),
    "ln": ("log", 0.5),
    "abs": ("fabs", -0.5),
}


def value(tree: Expression, point: float, *, radius: float = 0.0, analytic: bool = False) -> Any:
    ball = acb(arb(point, radius), arb(0, radius) if analytic else arb(0))
    return ball_function(tree, X)(ball, analytic)


def test_every_function_of_the_language_has_a_row() -> None:
    assert set(OUTSIDE) == set(FUNCTIONS)


@pytest.mark.parametrize("name", sorted(OUTSIDE))
@pytest.mark.parametrize("analytic", [False, True])
def test_a_function_agrees_with_mpmath(name: str, analytic: bool) -> None:
    other, point = OUTSIDE[name]
    found = value(Apply(name, X), point, radius=1e-9, analytic=analytic)
    assert found.is_finite()
    assert found.imag.contains(0)
    assert abs(float(found.real.mid()) - float(getattr(mpmath, other)(point))) < 1e-7


@pytest.mark.parametrize(
    ("tree", "point"),
    [
        (Apply("tan", X), 1.5707963267948966),
        (Apply("sec", X), 1.5707963267948966),
        (Apply("cot", X), 0.0),
        (Apply("cosech", X), 0.0),
        (Apply("coth", X), 0.0),
        (1 / X, 0.0),
        (X**-2, 0.0),
        (ln(X), 0.0),
        (Apply("artanh", X), 1.0),
        (Apply("arcoth", X), -1.0),
        (Apply("arcosech", X), 0.0),
        (Apply("arsech", X), 0.0),
        (Power(X, rational(-1, 3)), 0.0),
    ],
)
def test_a_ball_on_a_pole_has_no_value(tree: Expression, point: float) -> None:
    for analytic in (False, True):
        assert not value(tree, point, radius=1e-6, analytic=analytic).is_finite()


@pytest.mark.parametrize(
    ("tree", "point"),
    [
        (sqrt(X), 0.0),
        (Root(X, 3), 0.0),
        (Root(X, 4), 0.0),
        (Power(X, rational(2, 3)), 0.0),
        (Power(X, rational(3, 2)), 0.0),
        (Apply("abs", X), 0.0),
        (Apply("arcsin", X), 1.0),
        (Apply("arccos", X), -1.0),
        (Apply("arcosh", X), 1.0),
        (Apply("arcsec", X), 1.0),
        (Apply("arccosec", X), -1.0),
        (Apply("arsech", X), 1.0),
    ],
)
def test_a_branch_point_is_bounded_but_not_analytic(tree: Expression, point: float) -> None:
    assert value(tree, point, radius=1e-6).is_finite()
    assert not value(tree, point, radius=1e-6, analytic=True).is_finite()


@pytest.mark.parametrize(
    ("name", "point"), [("arctan", 1.0), ("arctan", -1.0), ("arsinh", 1.0), ("arsinh", -1.0), ("arccot", 1.0)]
)
def test_the_cuts_on_the_imaginary_axis_are_seen(name: str, point: float) -> None:
    f = ball_function(Apply(name, X), X)
    assert not f(acb(arb(0, 0.1), arb(point, 0.1)), True).is_finite()
    assert f(acb(arb(0, 0.1), arb(0, 0.5)), True).is_finite()


@pytest.mark.parametrize(
    "tree",
    [
        sqrt(X),
        Root(X, 4),
        ln(X),
        Power(X, rational(1, 6)),
        Power(X, PI),
        Apply("arcosh", X),
        Apply("arcsin", X - 1),
        Apply("artanh", X - 1),
    ],
)
def test_no_real_value_means_no_value(tree: Expression) -> None:
    for analytic in (False, True):
        assert not value(tree, -0.5, radius=1e-6, analytic=analytic).is_finite()


@pytest.mark.parametrize("tree", [Root(X, 3), Power(X, rational(1, 3)), Power(X, rational(2, 6))])
def test_odd_roots_of_negative_numbers_are_real(tree: Expression) -> None:
    for analytic in (False, True):
        found = value(tree, -8.0, radius=1e-9, analytic=analytic)
        assert abs(float(found.real.mid()) + 2) < 1e-8
        assert found.imag.contains(0)


def test_an_even_power_of_an_odd_root_is_positive() -> None:
    assert abs(float(value(Power(X, rational(2, 3)), -8.0).real.mid()) - 4) < 1e-12


def test_a_ball_half_inside_a_domain_is_cut_down() -> None:
    found = value(sqrt(X), 0.0, radius=4.0).real
    assert found.contains(0)
    assert found.contains(2)
    assert not found.contains(-1)


@settings(max_examples=60)
@given(
    name=st.sampled_from(sorted(OUTSIDE)),
    left=st.floats(-3, 3),
    width=st.floats(1e-6, 1),
    at=st.floats(0, 1),
)
def test_a_finite_ball_holds_the_values_inside(name: str, left: float, width: float, at: float) -> None:
    """Whatever is said of a ball is true of each point of it (the point as an exact ball of its own)."""
    f = ball_function(Apply(name, X), X)
    middle = left + width / 2
    for analytic in (False, True):
        wide = f(acb(arb(middle, width), arb(0, width) if analytic else arb(0)), analytic)
        point = f(acb(left + at * width), False)
        if wide.is_finite() and point.is_finite():
            assert wide.overlaps(point)
        if wide.is_finite() and analytic:
            assert point.is_finite()


def test_letters_and_signs_of_calculus_are_outside_the_language() -> None:
    with pytest.raises(OutsideTheLanguage, match="letter a"):
        ball_function(X + Symbol("a"), X)
    with pytest.raises(OutsideTheLanguage, match="Differential"):
        ball_function(Differential(X), X)


def test_numbers_and_powers_in_general() -> None:
    assert (
        abs(float(value(Decimal("0.25") + PI * E - X**2, 2.0).real.mid()) - (0.25 + mpmath.pi * mpmath.e - 4))
        < 1e-12
    )
    assert abs(float(value(Power(Integer(2), X), 3.0).real.mid()) - 8) < 1e-12
    assert abs(float(value(Power(X, X), 2.0).real.mid()) - 4) < 1e-12
    assert abs(float(value(exp(-X), 1.0).real.mid()) - float(mpmath.exp(-1))) < 1e-12


@pytest.mark.parametrize(
    ("tree", "number"),
    [
        (rational(1, 2) * 4 - 3, Fraction(-1)),
        (Power(rational(2, 3), Integer(2)), Fraction(4, 9)),
        (Power(Integer(2), rational(-3)), Fraction(1, 8)),
        (Decimal("0.5") / 2, Fraction(1, 4)),
        (Integer(1) / 0, None),
        (Power(Integer(0), rational(-1)), None),
        (Power(Integer(2), rational(1, 2)), None),
        (Power(Integer(2), Integer(1000)), None),
        (PI + 1, None),
        (-PI, None),
        (X, None),
    ],
)
def test_exact_numbers(tree: Expression, number: Fraction | None) -> None:
    assert exact_number(tree) == number


def test_what_has_no_value_inside_has_none_outside() -> None:
    for outer in (sqrt(1 / X), Root(1 / X, 3), ln(1 / X), Apply("arcsin", 1 / X), Apply("abs", 1 / X)):
        for analytic in (False, True):
            assert not value(outer, 0.0, radius=0.1, analytic=analytic).is_finite()


def test_an_odd_root_off_the_real_line_is_not_defined_across_the_cut() -> None:
    f = ball_function(Root(X, 3), X)
    assert not f(acb(arb(0, 1), arb(0, 1)), False).is_finite()
