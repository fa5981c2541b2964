"""Decimal literals against exact fractions."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.writers.numbers import decimal_text, exact_text

fractions = st.builds(
    lambda over, under, shift: Fraction(over, under) * Fraction(10) ** shift,
    st.integers(-(10**24), 10**24),
    st.integers(1, 10**24),
    st.integers(-30, 30),
)


@settings(max_examples=100)
@given(fractions)
def test_each_side_is_on_its_side_and_near(value: Fraction) -> None:
    down, up = Fraction(decimal_text(value, "down")), Fraction(decimal_text(value, "up"))
    assert down <= value <= up
    assert up - down <= abs(value) / 10**15
    assert down <= Fraction(decimal_text(value)) <= up


@given(st.integers(-(10**8), 10**8), st.integers(0, 8))
def test_what_was_short_stays_exact(digits: int, places: int) -> None:
    value = Fraction(digits, 10**places)
    assert {Fraction(decimal_text(value, side)) for side in ("down", "up", "nearest")} == {value}


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Fraction(0), "0"),
        (Fraction(1, 4), "0.25"),
        (Fraction(-1200), "-1200"),
        (Fraction(10) ** 6, "1000000"),
        (Fraction(1, 10**6), "0.000001"),
        (Fraction(10) ** 30, "1E+30"),
        (Fraction(1, 10**30), "1E-30"),
    ],
)
def test_as_a_person_would_write_it(value: Fraction, text: str) -> None:
    assert decimal_text(value) == text
    assert Fraction(Decimal(text)) == value


def test_exact() -> None:
    assert exact_text(Fraction(6, 4)) == "3/2"
    assert exact_text(Fraction(-4)) == "-4"
