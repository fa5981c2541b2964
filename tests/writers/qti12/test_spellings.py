"""Spellings of numbers: all of them within the bounds, none twice, and those that a student is asked for among them."""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_DOWN, ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from typing import Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.items.item import Item, Numeric, NumericSlip
from qbank.items.rounding import round_to_figures
from qbank.maths.conventions import Conventions
from qbank.maths.expression import Integer
from qbank.writers.qti12.spellings import accepted, recognised
from tests.writers.sample_items import definite_power

ITEM = definite_power(2)


def item(value: Fraction, figures: int, sign: Literal[".", ","] = ".") -> tuple[Item, Numeric]:
    rounded = round_to_figures(value, figures)
    assert rounded is not None
    response = Numeric(
        value=Integer(1),
        decimal=rounded.text,
        figures=figures,
        lower=rounded.lower,
        upper=rounded.upper,
        slips=(),
    )
    near = Fraction(1, 10**20)
    conventions = Conventions(decimal=sign)
    return replace(ITEM, enclosure=(value - near, value + near), conventions=conventions), response


def number(text: str) -> Fraction:
    return Fraction(text.replace("\u2212", "-").replace(",", "."))


VALUES = st.fractions(max_denominator=10**9).filter(bool)


@settings(max_examples=100)
@given(VALUES, st.integers(2, 6), st.sampled_from((".", ",")))
def test_every_spelling_is_a_number_that_the_item_accepts(
    value: Fraction, figures: int, sign: Literal[".", ","]
) -> None:
    one, response = item(value, figures, sign)
    found = accepted(one, response)
    assert found[0] == response.decimal.replace(".", sign)
    assert len(set(found)) == len(found) <= 80
    for text in found:
        assert response.lower <= number(text) <= response.upper
        assert sign == "," or "," not in text


@settings(max_examples=100)
@given(VALUES, st.integers(2, 6))
def test_what_decimal_arithmetic_rounds_to_is_accepted(value: Fraction, figures: int) -> None:
    """Python's `decimal` as the judge of a longer answer, from a calculator that rounds and from one that cuts off."""
    one, response = item(value, figures)
    found = accepted(one, response)
    settled = len(response.decimal.partition(".")[2])
    exact = Context(prec=60).divide(Decimal(value.numerator), Decimal(value.denominator))
    for places in range(settled + 1, settled + 4) if settled else ():
        for rounding in (ROUND_HALF_UP, ROUND_DOWN):
            text = str(exact.quantize(Decimal(1).scaleb(-places), rounding, Context(prec=60)))
            if "E" not in text and response.lower <= number(text) <= response.upper:
                assert text in found


def test_a_value_in_the_open() -> None:
    # pi/4 = 0.785398163397448...
    one, response = item(Fraction("0.785398163397448"), 3)
    assert accepted(one, response) == (
        "0.785", ".785", "0.7850", ".7850", "0.78500", ".78500", "0.7854", ".7854", "0.7853", ".7853",
        "0.78540", ".78540", "0.78539", ".78539", "0.785398", ".785398",
    )  # fmt: skip


def test_negative_numbers_have_two_minus_signs() -> None:
    one, response = item(Fraction(-5, 4), 3, ",")
    found = accepted(one, response)
    assert {"-1,25", "\u22121,25", "-1.25", "\u22121.25", "-1,250"} <= set(found)


def test_zeros_at_the_end_may_be_left_out() -> None:
    one, response = item(Fraction(2), 3)
    assert response.decimal == "2.00"
    assert {"2", "2.0", "2.00", "2.000"} <= set(accepted(one, response))


def test_large_numbers_with_more_figures() -> None:
    one, response = item(Fraction(-123456), 2)
    assert response.decimal == "-120000"
    assert {"-120000", "-123000", "-123500", "-123400", "-123460", "-123450"} <= set(accepted(one, response))


def test_without_an_enclosure_only_the_rounded_number() -> None:
    one, response = item(Fraction(1, 8), 3)
    found = accepted(replace(one, enclosure=None), response)
    assert {number(text) for text in found} == {Fraction(1, 8)}


def test_half_way_between_two_numbers_both_are_accepted() -> None:
    one, response = item(Fraction(1, 32), 2)
    assert {"0.031", "0.0313", "0.0312", "0.03125"} <= set(accepted(one, response))


def test_a_wide_enclosure_lets_in_nothing_outside_the_bounds() -> None:
    one, response = item(Fraction(1, 3), 3)
    wide = replace(one, enclosure=(Fraction(3, 10), Fraction(4, 10)))
    assert {number(text) for text in accepted(wide, response)} == {Fraction(333, 1000)}


def slip(lower: Fraction, upper: Fraction) -> NumericSlip:
    return NumericSlip(slip="s", value=Integer(1), lower=lower, upper=upper, feedback=())


@settings(max_examples=80)
@given(VALUES, st.integers(2, 6))
def test_a_slip_is_recognised_by_its_rounded_number(value: Fraction, figures: int) -> None:
    rounded = round_to_figures(value, figures)
    assert rounded is not None
    found = recognised(slip(rounded.lower, rounded.upper), ".")
    assert {number(text) for text in found} == {number(rounded.text)}
    assert rounded.text in found


@pytest.mark.parametrize("width", [Fraction(1, 7), Fraction(3), Fraction(999), Fraction(1, 10**6)])
def test_bounds_of_any_width_have_a_spelling(width: Fraction) -> None:
    middle = Fraction(10**4, 3)
    found = recognised(slip(middle - width / 2, middle + width / 2), ",")
    assert found
    assert all(abs(number(text) - middle) <= width / 2 for text in found)


def test_bounds_without_width_have_none() -> None:
    assert recognised(slip(Fraction(1, 3), Fraction(1, 3)), ".") == ()
