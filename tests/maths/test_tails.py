"""Expansions against mpmath: beyond the start, the value of the tree lies in the ball of its expansion."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import mpmath
import pytest
from flint import arb, fmpq
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.complex_balls import OutsideTheLanguage
from qbank.maths.expansions import Algebra, Expansion, real_power_of
from qbank.maths.expression import (
    PI,
    Apply,
    Differential,
    E,
    Expression,
    Integer,
    Power,
    Root,
    Symbol,
    cos,
    exp,
    ln,
    rational,
    sin,
    sqrt,
    tan,
)
from qbank.maths.growth import ONE, Beyond, Growth, TooSoon, Undecided, exact, is_zero, number, plus, times
from qbank.maths.tails import Diverges, expand, tail_integral

X = Symbol("x")
ALGEBRA = Algebra(Beyond(64))
STEP = Expansion(((Growth(power=Fraction(-1)), exact(1)),))
AWAY = Expansion(((Growth(power=Fraction(1)), exact(1)),))

#: the variable as an expansion, and the same in mpmath
PLACES: dict[str, tuple[Expansion, Callable[..., Any]]] = {
    "at 0": (STEP, lambda y: 1 / y),
    "at 1 from below": (
        ALGEBRA.add(ALGEBRA.constant(exact(1)), ALGEBRA.negative(STEP)),
        lambda y: 1 - 1 / y,
    ),
    "at -1": (ALGEBRA.add(ALGEBRA.constant(exact(-1)), STEP), lambda y: -1 + 1 / y),
    "at pi/2": (
        ALGEBRA.add(ALGEBRA.constant(exact(0, Fraction(1, 2))), ALGEBRA.negative(STEP)),
        lambda y: mpmath.pi / 2 - 1 / y,
    ),
    "at sqrt(2)": (
        ALGEBRA.add(ALGEBRA.constant(arb(2).sqrt()), STEP),
        lambda y: mpmath.sqrt(2) + 1 / y,
    ),
    "infinity": (AWAY, lambda y: y),
    "minus infinity": (ALGEBRA.negative(AWAY), lambda y: -y),
}
m = mpmath


def a(name: str, argument: Expression = X) -> Expression:
    return Apply(name, argument)


CASES: list[tuple[str, Expression, Callable[..., Any]]] = [
    ("at 0", (1 - cos(X)) / X**2, lambda x: (1 - m.cos(x)) / x**2),
    ("at 0", X**X * ln(X), lambda x: x**x * m.log(x)),
    ("at 0", a("cot"), m.cot),
    ("at 0", a("cosec") - 1 / X, lambda x: m.csc(x) - 1 / x),
    ("at 0", a("coth"), m.coth),
    ("at 0", a("cosech") + a("sech"), lambda x: m.csch(x) + m.sech(x)),
    ("at 0", a("arccot") * E, lambda x: m.acot(x) * m.e),
    ("at 0", a("arsech"), m.asech),
    ("at 0", a("arcosech"), m.acsch),
    ("at 0", Power(Integer(2), ln(X)), lambda x: 2 ** m.log(x)),
    ("at 0", exp(-1 / X) / X**3, lambda x: m.exp(-1 / x) / x**3),
    ("at 0", sqrt(ln(1 / X)), lambda x: m.sqrt(m.log(1 / x))),
    ("at 0", Root(X, 3) + Power(X, rational(-2, 5)), lambda x: m.cbrt(x) + x ** m.mpf("-0.4")),
    ("at 0", sin(1 / X), lambda x: m.sin(1 / x)),
    ("at 0", sqrt(2 + sin(1 / X)), lambda x: m.sqrt(2 + m.sin(1 / x))),
    ("at 0", ln(2 + sin(1 / X)), lambda x: m.log(2 + m.sin(1 / x))),
    ("at 0", a("abs", sin(1 / X)), lambda x: abs(m.sin(1 / x))),
    ("at 0", a("exp", X) - 1, m.expm1),
    ("at 1 from below", 1 / sqrt(1 - X**2), lambda x: 1 / m.sqrt(1 - x**2)),
    ("at 1 from below", a("arccos"), m.acos),
    ("at 1 from below", a("arcsin"), m.asin),
    ("at 1 from below", a("artanh"), m.atanh),
    ("at 1 from below", ln(X) / (1 - X), lambda x: m.log(x) / (1 - x)),
    ("at 1 from below", a("arctan"), m.atan),
    ("at 1 from below", a("abs", X - 1), lambda x: 1 - x),
    ("at -1", a("arccos"), m.acos),
    ("at -1", a("arctan") + a("abs"), lambda x: m.atan(x) - x),
    ("at -1", Root(X, 3), lambda x: -m.cbrt(-x)),
    ("at pi/2", tan(X), m.tan),
    ("at pi/2", a("sec") ** 2 * exp(-(a("sec") ** 2)), lambda x: m.sec(x) ** 2 * m.exp(-(m.sec(x) ** 2))),
    ("at pi/2", ln(cos(X)), lambda x: m.log(m.cos(x))),
    ("at sqrt(2)", a("arcosh") + a("arcsec") + a("arcoth"), lambda x: m.acosh(x) + m.asec(x) + m.acoth(x)),
    ("at sqrt(2)", a("arccosec") - PI, lambda x: m.acsc(x) - m.pi),
    ("infinity", a("sinh") / a("sinh", PI * X), lambda x: m.sinh(x) / m.sinh(m.pi * x)),
    ("infinity", a("tanh") * exp(-X), lambda x: m.tanh(x) * m.exp(-x)),
    ("infinity", a("arctan") + a("arsinh"), lambda x: m.atan(x) + m.asinh(x)),
    ("infinity", Power(X, -ln(X)), lambda x: x ** (-m.log(x))),
    ("infinity", exp(-2 * X**2 - 5 * X - 3), lambda x: m.exp(-2 * x**2 - 5 * x - 3)),
    ("infinity", a("cosh", 1 / X) - 1, lambda x: m.cosh(1 / x) - 1),
    ("infinity", 1 / (exp(X) - X**5), lambda x: 1 / (m.exp(x) - x**5)),
    ("minus infinity", a("arsinh") * a("arctan"), lambda x: m.asinh(x) * m.atan(x)),
    ("minus infinity", a("abs") + Root(X, 5), lambda x: -x - (-x) ** (m.mpf(1) / 5)),
    ("minus infinity", exp(X) * X**3, lambda x: m.exp(x) * x**3),
]


def ball_of(value: Expansion, y: int) -> arb:
    """An expansion at one y."""
    there = Beyond(y)
    total = arb(0)
    for growth, coefficient in value.terms:
        total += number(coefficient) * there.value(growth)
    if value.rest:
        total += value.rest[1] * there.value(value.rest[0])
    return total


@pytest.mark.parametrize("case", range(len(CASES)))
@settings(max_examples=8)
@given(y=st.integers(64, 4000))
def test_the_expansion_holds_the_value(case: int, y: int) -> None:
    place, tree, outside = CASES[case]
    x, in_mpmath = PLACES[place]
    ball = ball_of(expand(tree, X, x, ALGEBRA), y)
    with mpmath.workdps(120):
        true = outside(in_mpmath(mpmath.mpf(y)))
        low, high = (mpmath.mpf(end.str(60, radius=False)) for end in (ball.lower(), ball.upper()))
        slack = (abs(low) + abs(high)) * mpmath.mpf(10) ** -30
        assert low - slack <= true <= high + slack


def test_expansions_are_sharp_not_only_true() -> None:
    ball = ball_of(expand((1 - cos(X)) / X**2, X, STEP, ALGEBRA), 100)
    assert ball.rad() < 1e-12


@pytest.mark.parametrize(
    ("place", "tree", "problem"),
    [
        ("infinity", ln(ln(X)), "logarithm of a logarithm"),
        ("infinity", exp(exp(X)), "exponential of an exponential"),
        ("minus infinity", ln(X), "negative"),
        ("minus infinity", sqrt(X), "positive"),
        ("infinity", ln(sin(X)), "positive"),
        ("infinity", sqrt(sin(X)), "positive"),
        ("infinity", 1 / sin(X), "positive"),
        ("infinity", 1 / (X - X), "division by 0"),
        ("at sqrt(2)", 1 / (X**2 - 2), "positive"),
    ],
)
def test_what_cannot_be_expanded_is_said(place: str, tree: Expression, problem: str) -> None:
    with pytest.raises(Undecided, match=problem):
        expand(tree, X, PLACES[place][0], ALGEBRA)


def test_letters_are_outside() -> None:
    for tree in (Symbol("a") + X, Differential(X)):
        with pytest.raises(OutsideTheLanguage):
            expand(tree, X, STEP, ALGEBRA)


@pytest.mark.parametrize(
    ("tree", "integral"),
    [  # over y from 64 to infinity, by mpmath's incomplete gamma function or by hand
        (X**-2, lambda: m.mpf(1) / 64),
        (
            Power(X, rational(-3, 2)) * ln(X) ** 2,
            lambda: 2 / m.sqrt(64) * (m.log(64) ** 2 + 4 * m.log(64) + 8),
        ),
        (exp(-X) * X**3, lambda: m.gammainc(4, 64)),
        (exp(-sqrt(X)) * X, lambda: 2 * m.gammainc(4, 8)),
        (sqrt(ln(X)) / X**2, lambda: m.quad(lambda y: m.sqrt(m.log(y)) / y**2, [64, 1000, m.inf])),
        (sin(X) / X**2, lambda: m.sin(64) / 64 - m.ci(64)),
    ],
)
def test_tails_hold_the_integral(tree: Expression, integral: Callable[[], Any]) -> None:
    ball = tail_integral(expand(tree, X, AWAY, ALGEBRA), ALGEBRA)
    true = integral()
    assert float(ball.lower()) - 1e-12 <= true <= float(ball.upper()) + 1e-12


@pytest.mark.parametrize("tree", [1 / X, X**2, 1 / sqrt(X), exp(X), 1 / (X * ln(X)), Integer(1)])
def test_divergence_is_recognised(tree: Expression) -> None:
    with pytest.raises(Diverges):
        tail_integral(expand(tree, X, AWAY, ALGEBRA), ALGEBRA)


def test_no_claim_where_there_is_only_a_bound() -> None:
    with pytest.raises(Undecided, match="converge"):
        tail_integral(expand(sin(X), X, AWAY, ALGEBRA), ALGEBRA)


def test_nothing_has_no_tail() -> None:
    assert tail_integral(Expansion(), ALGEBRA).is_zero()


def test_too_soon_is_said() -> None:
    """At y = 8 the terms of exp(100/y) e^y are not yet in order: only further out is there a bound."""
    early = Algebra(Beyond(8))
    with pytest.raises(TooSoon):
        tail_integral(expand(X**40 * exp(-X), X, AWAY, early), early)
    with pytest.raises(TooSoon):
        expand(1 / (1 - 100 / X), X, AWAY, early)


def test_growths_are_ordered() -> None:
    fast = Growth(exponent=((Fraction(1), Fraction(0), exact(1)),))
    slow = Growth(exponent=((Fraction(1), Fraction(0), exact(-1)),), power=Fraction(9))
    one_log, power = Growth(logs=Fraction(1)), Growth(power=Fraction(1, 9))
    ordered = [fast, power, one_log, ONE, one_log**-1, power**-1, slow]
    for i, left in enumerate(ordered):
        for j, right in enumerate(ordered):
            assert left.compare(right) == (j > i) - (j < i)
            assert (left / right).trend == left.compare(right)
    assert fast**0 == ONE


def test_coefficients_with_pi_are_exact() -> None:
    assert is_zero(plus(exact(0, 1), exact(0, -1)))
    assert not is_zero(times(exact(0, 1), exact(1, 1)))
    assert is_zero(arb(0))
    assert not is_zero(plus(arb(1), exact(1)))
    with pytest.raises(Undecided, match="no proof"):
        is_zero(arb(2).sqrt() ** 2 - 2)


def test_powers_of_numbers() -> None:
    assert real_power_of(arb(-8), Fraction(1, 3)).contains(-2)
    assert real_power_of(arb(fmpq(1, 4)), Fraction(-1, 2)).contains(2)
    with pytest.raises(Undecided):
        real_power_of(arb(0, 1), Fraction(1, 2))


def test_a_growth_with_a_bound_has_a_range() -> None:
    beyond = Beyond(10)
    assert beyond.range(ONE) == 1
    assert beyond.falls(ONE)
    assert not beyond.falls(Growth(exponent=((Fraction(1), Fraction(0), exact(1)),)))
    assert beyond.range(Growth(power=Fraction(-1))).contains(arb("0.05"))
    with pytest.raises(Undecided, match="without bound"):
        beyond.range(Growth(power=Fraction(1)))
    with pytest.raises(TooSoon):
        beyond.range(Growth(power=Fraction(-1), logs=Fraction(5)))
