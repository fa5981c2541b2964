"""Spellings of exact numbers: each is the number, and the usual ones of a student are among them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qbank.packages.spelled import exact_number
from qbank.writers.exact_spellings import exact_spellings

NUMBERS = st.fractions(min_value=-9999, max_value=9999, max_denominator=9999)


@given(NUMBERS, st.sampled_from([".", ","]), st.booleans())
def test_each_is_the_number_and_stands_once(number: Fraction, decimal: str, around: bool) -> None:
    found = exact_spellings(number, decimal, around=around)
    assert len(set(found)) == len(found) <= 400
    assert {exact_number(text) for text in found} == {number}


@pytest.mark.parametrize(
    ("number", "texts"),
    [
        (Fraction(3, 4), ["3/4", "6/8", "0.75", ".75", "0.750", "0,75", "3 / 4"]),
        (Fraction(-1, 3), ["-1/3", "\u22121/3", "-4/12"]),
        (Fraction(5), ["5", "5/1", "5.0", "10/2"]),
        (Fraction(-12), ["-12", "\u221212", "-12.0"]),
    ],
)
def test_usual_spellings(number: Fraction, texts: list[str]) -> None:
    assert set(texts) <= set(exact_spellings(number, ","))


@pytest.mark.parametrize("text", ["", "x", "1/0", "1//2", "--1", "1e3", "1/2/3", "1.5/2", "½", "9" * 41])
def test_what_is_no_number(text: str) -> None:
    assert exact_number(text) is None
