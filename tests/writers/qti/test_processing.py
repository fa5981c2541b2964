"""Scoring of the written items, after the standard's own account of response processing."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.items.item import Choice, Numeric
from qbank.writers.qti.item import item_document
from tests.writers.qti.processor import run
from tests.writers.sample_items import cosine_power, definite_power, definite_zero, free_cosine

CHOICE = cosine_power(2)
NUMBER = definite_power(3)
CHOICE_DOCUMENT = item_document(CHOICE, shuffle=True)
NUMBER_DOCUMENT = item_document(NUMBER, shuffle=True)


def test_each_option() -> None:
    assert isinstance(CHOICE.response, Choice)
    for option in CHOICE.response.options:
        outcomes = run(CHOICE_DOCUMENT, option.identifier)
        assert outcomes == {
            "SCORE": 2.0 if option.is_key else 0.0,
            "MAXSCORE": 2.0,
            "FEEDBACK": option.identifier,
            "SOLUTION": "WORKED",
        }


def test_no_option_chosen() -> None:
    assert run(CHOICE_DOCUMENT, None) == {"SCORE": 0.0, "MAXSCORE": 2.0, "FEEDBACK": None, "SOLUTION": None}


@pytest.mark.parametrize(
    ("typed", "score", "feedback"),
    [
        ("0.25", 1, "RIGHT"),
        ("0.2495", 1, "RIGHT"),
        ("0.2505", 1, "RIGHT"),
        ("0.2494999", 0, "WRONG"),
        ("0.2505001", 0, "WRONG"),
        ("0.333", 0, "SLIP1"),
        ("-0.25", 0, "WRONG"),
        ("1e300", 0, "WRONG"),
        ("inf", 0, "WRONG"),
        ("nan", 0, "WRONG"),
        (None, 0, "UNREAD"),
    ],
)
def test_a_number(typed: str | None, score: int, feedback: str) -> None:
    outcomes = run(NUMBER_DOCUMENT, typed)
    assert (outcomes["SCORE"], outcomes["FEEDBACK"]) == (score, feedback)
    assert (outcomes["SOLUTION"] == "WORKED") == (typed is not None)


@settings(max_examples=200)
@given(st.one_of(st.decimals(-2, 2, places=6), st.decimals("0.249", "0.251", places=7)).map(str))
def test_a_number_is_right_exactly_within_the_bounds_of_the_item(typed: str) -> None:
    response = NUMBER.response
    assert isinstance(response, Numeric)
    right = response.lower <= Fraction(typed) <= response.upper
    assert (run(NUMBER_DOCUMENT, typed)["SCORE"] == 1) == right


@given(st.integers(1, 12), st.integers(1, 10**12))
@settings(max_examples=30)
def test_the_wide_bounds_hold_every_accepted_number(exponent: int, scale: int) -> None:
    item = definite_power(exponent, scale)
    assert isinstance(item.response, Numeric)
    document = item_document(item, shuffle=True)
    middle = (item.response.lower + item.response.upper) / 2
    assert run(document, repr(float(middle)))["SCORE"] == 1


def test_zero_is_refused() -> None:
    """A reader was seen to read a blank as 0: such an item would give marks for nothing."""
    with pytest.raises(ValueError, match="may be 0"):
        item_document(definite_zero(), shuffle=True)


def test_a_free_answer_is_left_to_a_person() -> None:
    document = item_document(free_cosine(2), shuffle=True)
    assert run(document, "sin x") == {"SCORE": None, "MAXSCORE": 2.0, "SOLUTION": "WORKED"}
    assert run(document, None) == {"SCORE": None, "MAXSCORE": 2.0, "SOLUTION": None}
    assert b'external-scored="human"' in document
