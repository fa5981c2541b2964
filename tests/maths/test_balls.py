"""The rigorous system: where it says undefined, where it asks for more bits, and that bounds hold."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import mpmath
import pytest
from flint import arb, ctx
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.balls import Balls, Blurred, precision, to_ball
from qbank.maths.decimals import bounds
from qbank.maths.forward import Undefined

BALLS = Balls({"x": arb(2)})
WIDE = arb(0, 1)
UNBOUNDED = arb(1) / arb(0)


def test_precision_is_put_back_even_after_an_error() -> None:
    before = ctx.prec
    with pytest.raises(Undefined), precision(200):
        BALLS.ln(arb(-ctx.prec))
    assert ctx.prec == before


@pytest.mark.parametrize(
    "operation",
    [
        lambda: BALLS.ln(arb(-1)),
        lambda: BALLS.ln(arb(0)),
        lambda: BALLS.ln_absolute(arb(0)),
        lambda: BALLS.power(arb(-1), Fraction(1, 2)),
        lambda: BALLS.power(arb(-1), Fraction(3, 4)),
        lambda: BALLS.arcsin(arb(2)),
    ],
)
def test_certainly_undefined(operation: Callable[[], Any]) -> None:
    with pytest.raises(Undefined):
        operation()


@pytest.mark.parametrize(
    "operation",
    [
        lambda: BALLS.ln(WIDE),
        lambda: BALLS.power(WIDE, Fraction(1, 2)),
        lambda: BALLS.power(WIDE, Fraction(1, 3)),
        lambda: BALLS.arcsin(arb(1, 1)),
        lambda: BALLS.arctan(UNBOUNDED),
        lambda: BALLS.cos_sin(UNBOUNDED),
        lambda: BALLS.exp(UNBOUNDED),
        lambda: BALLS.power(UNBOUNDED, Fraction(2)),
        lambda: BALLS.bounded(UNBOUNDED),
    ],
)
def test_more_bits_are_asked_for(operation: Callable[[], Any]) -> None:
    with pytest.raises(Blurred):
        operation()


def test_odd_roots_of_negative_numbers_are_real() -> None:
    assert BALLS.power(arb(-8), Fraction(1, 3)).contains(-2)
    assert BALLS.power(arb(-8), Fraction(2, 3)).contains(4)
    assert BALLS.power(arb(-8), Fraction(-1, 3)).contains(arb("-0.5"))
    assert BALLS.power(arb(0), Fraction(1, 3)) == 0
    assert BALLS.power(arb(0), Fraction(1, 4)) == 0
    assert BALLS.power(arb(16), Fraction(3, 4)).contains(8)


def test_letters_and_constants() -> None:
    assert BALLS.letter("x") == 2
    assert BALLS.number(Fraction(1, 3)).contains(arb(1) / 3)
    assert BALLS.pi().contains(arb.pi())
    assert BALLS.absolute(arb(-3)) == 3


@settings(max_examples=60)
@given(st.fractions(min_value=-50, max_value=50, max_denominator=1000))
def test_bounds_hold_the_exact_number_at_any_precision(value: Fraction) -> None:
    for bits in (20, 64, 300):
        with precision(bits):
            ball = to_ball(value)
        lower, upper = bounds(ball)
        assert lower <= value <= upper


@settings(max_examples=60)
@given(st.fractions(min_value=Fraction(1, 50), max_value=50, max_denominator=100))
def test_functions_hold_what_mpmath_finds(value: Fraction) -> None:
    with precision(100), mpmath.workdps(60):
        ball, place = to_ball(value), mpmath.mpf(value.numerator) / value.denominator
        for ours, theirs in (
            (BALLS.exp(ball), mpmath.exp(place)),
            (BALLS.ln(ball), mpmath.log(place)),
            (BALLS.arctan(ball), mpmath.atan(place)),
            (BALLS.cos_sin(ball)[0], mpmath.cos(place)),
            (BALLS.cos_sin(ball)[1], mpmath.sin(place)),
            (BALLS.power(ball, Fraction(2, 7)), place ** (mpmath.mpf(2) / 7)),
        ):
            lower, upper = bounds(ours)
            slack = mpmath.mpf("1e-50") * (1 + abs(theirs))
            assert mpmath.mpf(lower.numerator) / lower.denominator <= theirs + slack
            assert mpmath.mpf(upper.numerator) / upper.denominator >= theirs - slack


@pytest.mark.parametrize("index", [2**31 + 1, 2**63 + 1, 2**64, 2**64 + 1, 10**19 + 1])
def test_roots_of_an_enormous_index(index: int) -> None:
    # beyond one machine word the library itself refuses; 3^(1/n) = 1 + (ln 3)/n + ...
    with precision(256):
        excess = (BALLS.power(arb(3), Fraction(1, index)) - 1) * index
        assert abs(excess - arb(3).log()) < 1e-6
        if index % 2:
            assert BALLS.power(arb(-3), Fraction(1, index)) < -1
    assert BALLS.power(arb(0), Fraction(1, index)) == 0
