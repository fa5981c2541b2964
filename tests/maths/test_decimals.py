"""Decimal strings: correct rounding, and silence when the bounds do not decide it."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.decimals import decimal_text


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


@settings(max_examples=200)
@given(st.fractions(max_denominator=10**6), st.integers(1, 30))
def test_agrees_with_the_decimal_module(value: Fraction, digits: int) -> None:
    context = Context(prec=digits, rounding=ROUND_HALF_EVEN, Emax=999999, Emin=-999999)
    wanted = context.divide(Decimal(value.numerator), Decimal(value.denominator))
    assert Decimal(decimal_text(value, value, digits) or "nan") == wanted


@settings(max_examples=100)
@given(st.fractions(max_denominator=1000), st.integers(1, 12))
def test_bounds_that_are_too_wide_say_nothing(value: Fraction, digits: int) -> None:
    size = abs(value) + 1
    assert decimal_text(value, value + size, digits) is None


def test_bounds_around_zero_say_nothing() -> None:
    assert decimal_text(Fraction(-1, 10**9), Fraction(1, 10**9), 3) is None
