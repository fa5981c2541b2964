"""Rounding to significant figures, beside the decimal module of the standard library."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qbank.items.rounding import Rounded, overlap, round_to_figures


def rounded(value: Fraction, figures: int) -> Rounded:
    result = round_to_figures(value, figures)
    assert result is not None
    return result


@pytest.mark.parametrize(
    ("value", "figures", "text"),
    [
        (Fraction(2, 3), 3, "0.667"),
        (Fraction(-2, 3), 3, "-0.667"),
        (Fraction(2), 3, "2.00"),
        (Fraction(999.6), 3, "1000"),
        (Fraction(9996, 10000), 3, "1.00"),
        (Fraction(12345), 2, "12000"),
        (Fraction(1, 800), 2, "0.0013"),
        (Fraction(5, 2), 1, "3"),
    ],
)
def test_table(value: Fraction, figures: int, text: str) -> None:
    assert rounded(value, figures).text == text


def test_zero_has_no_figures() -> None:
    assert round_to_figures(Fraction(0), 3) is None


@given(st.integers(-(10**9), 10**9).filter(bool), st.integers(1, 10**6), st.integers(1, 8))
def test_against_the_decimal_module(over: int, under: int, figures: int) -> None:
    value = Fraction(over, under)
    # 60 digits first: far beyond the figures asked for, so the second rounding sees the true half
    wanted = Context(prec=figures, rounding=ROUND_HALF_UP).plus(
        Context(prec=60).divide(Decimal(over), Decimal(under))
    )
    result = rounded(value, figures)
    assert Decimal(result.text) == wanted
    assert result.lower <= value <= result.upper


def test_bounds_hang_on_the_rounded_number_alone() -> None:
    """A value of 1 may be known as 1 or from enclosures on either side of it."""
    little, half = Fraction(1, 10**30), Fraction(1, 200)
    for value in (Fraction(1), 1 - little, 1 + little, Fraction(9996, 10000)):
        assert (rounded(value, 3).lower, rounded(value, 3).upper) == (1 - half, 1 + half)
        assert rounded(-value, 3).lower == -1 - half
        assert not rounded(value, 3).borderline


def test_borderline() -> None:
    assert rounded(Fraction(12349, 10000), 3).text == "1.23"
    assert rounded(Fraction(12349, 10000), 3).borderline
    assert rounded(Fraction(12351, 10000), 3).borderline
    assert not rounded(Fraction(1233, 1000), 3).borderline


def test_overlap() -> None:
    one, near, far = (rounded(Fraction(n, 1000), 3) for n in (1230, 1240, 1260))
    assert overlap(one, near)
    assert not overlap(one, far)
