"""Decimal strings: correct rounding, and silence when the bounds do not decide it."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction

import pytest
from flint import arb
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.balls import precision
from qbank.maths.decimals import ball_text, bounds, decimal_text, is_moderate


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (Fraction(0), 5, "0"),
        (Fraction(1), 5, "1"),
        (Fraction(-1, 8), 5, "-0.125"),
        (Fraction(2, 3), 4, "0.6667"),
        (Fraction(99999, 100000), 3, "1"),
        (Fraction(1, 3000), 3, "0.000333"),
        (Fraction(1, 3 * 10**7), 3, "3.33e-8"),
        (Fraction(10**20), 6, "1e20"),
        (Fraction(123456789 * 10**20), 4, "1.235e28"),
        (Fraction(1234567), 4, "1235000"),
        (Fraction(12345, 10), 5, "1234.5"),
    ],
)
def test_known_roundings(value: Fraction, digits: int, text: str) -> None:
    assert decimal_text(value, value, digits) == text


@settings(max_examples=80)
@given(st.fractions(max_denominator=10**6), st.integers(1, 30))
def test_agrees_with_the_decimal_module(value: Fraction, digits: int) -> None:
    context = Context(prec=digits, rounding=ROUND_HALF_EVEN, Emax=999999, Emin=-999999)
    wanted = context.divide(Decimal(value.numerator), Decimal(value.denominator))
    assert Decimal(decimal_text(value, value, digits) or "nan") == wanted


@settings(max_examples=60)
@given(st.fractions(max_denominator=1000), st.integers(1, 12))
def test_bounds_that_are_too_wide_say_nothing(value: Fraction, digits: int) -> None:
    size = abs(value) + 1
    assert decimal_text(value, value + size, digits) is None


def test_bounds_around_zero_say_nothing() -> None:
    assert decimal_text(Fraction(-1, 10**9), Fraction(1, 10**9), 3) is None


@pytest.mark.parametrize(
    ("mantissa", "power", "text"),
    [
        (3, 10**8, "3e100000000"),
        (-7, -(10**8), "-7e-100000000"),
        (25, 10**30, f"2.5e{10**30 + 1}"),
        (3, 2, "300"),
    ],
)
def test_numbers_beyond_writing_out(mantissa: int, power: int, text: str) -> None:
    with precision(256):
        ball = arb(mantissa) * arb(10) ** power
        assert ball_text(ball, 6) == text


def test_what_is_moderate() -> None:
    with precision(64):
        assert is_moderate(arb(0))
        assert is_moderate(arb(10) ** 300)
        assert not is_moderate(arb(10) ** 10**6)
        assert not is_moderate(arb(0, arb(10) ** 10**6))
        assert ball_text(arb(0, arb(10) ** 10**6), 5) is None
        # the power of ten cannot be told from so wide a ball
        assert ball_text((arb(10) ** 10**6) * arb(2, 1.9), 5) is None
        assert bounds(arb(3)) == (Fraction(3), Fraction(3))
