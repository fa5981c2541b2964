"""Scoring of the written items in every generation, after the standard's own account of response processing."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.items.item import Choice, Item, Numeric
from qbank.writers.qti import QTI3, QTI21, QTI22
from qbank.writers.qti.item import item_document
from tests.writers.qti.processor import run
from tests.writers.sample_items import cosine_power, definite_power, definite_zero, free_cosine

CHOICE = cosine_power(2)
NUMBER = definite_power(3)


def documents(item: Item) -> list[bytes]:
    return [item_document(item, generation, shuffle=True) for generation in (QTI3, QTI22, QTI21)]


CHOICE_DOCUMENTS = documents(CHOICE)
NUMBER_DOCUMENTS = documents(NUMBER)


def run_all(written: list[bytes], response: Any) -> dict[str, Any]:
    """The outcomes, which are the same in all generations."""
    first, *others = (run(document, response) for document in written)
    assert all(one == first for one in others)
    return first


def test_each_option() -> None:
    assert isinstance(CHOICE.response, Choice)
    for option in CHOICE.response.options:
        outcomes = run_all(CHOICE_DOCUMENTS, option.identifier)
        assert outcomes == {
            "SCORE": 2.0 if option.is_key else 0.0,
            "MAXSCORE": 2.0,
            "FEEDBACK": option.identifier,
            "SOLUTION": "WORKED",
        }


def test_no_option_chosen() -> None:
    assert run_all(CHOICE_DOCUMENTS, None) == {
        "SCORE": 0.0,
        "MAXSCORE": 2.0,
        "FEEDBACK": None,
        "SOLUTION": None,
    }


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
    outcomes = run_all(NUMBER_DOCUMENTS, typed)
    assert (outcomes["SCORE"], outcomes["FEEDBACK"]) == (score, feedback)
    assert (outcomes["SOLUTION"] == "WORKED") == (typed is not None)


@settings(max_examples=80)
@given(st.one_of(st.decimals(-2, 2, places=6), st.decimals("0.249", "0.251", places=7)).map(str))
def test_a_number_is_right_exactly_within_the_bounds_of_the_item(typed: str) -> None:
    response = NUMBER.response
    assert isinstance(response, Numeric)
    right = response.lower <= Fraction(typed) <= response.upper
    assert (run_all(NUMBER_DOCUMENTS, typed)["SCORE"] == 1) == right


@given(st.integers(1, 12), st.integers(1, 10**12))
@settings(max_examples=30)
def test_the_wide_bounds_hold_every_accepted_number(exponent: int, scale: int) -> None:
    item = definite_power(exponent, scale)
    assert isinstance(item.response, Numeric)
    middle = (item.response.lower + item.response.upper) / 2
    assert run_all(documents(item), repr(float(middle)))["SCORE"] == 1


def test_zero_is_refused() -> None:
    """A reader was seen to read a blank as 0: such an item would give marks for nothing."""
    with pytest.raises(ValueError, match="may be 0"):
        documents(definite_zero())


def test_a_free_answer_is_left_to_a_person() -> None:
    written = documents(free_cosine(2))
    assert run_all(written, "sin x") == {"SCORE": None, "MAXSCORE": 2.0, "SOLUTION": "WORKED"}
    assert run_all(written, None) == {"SCORE": None, "MAXSCORE": 2.0, "SOLUTION": None}
    assert b'external-scored="human"' in written[0]
    assert b'externalScored="human"' in written[1]
    assert b"Scored" not in written[2], "2.1 has no word for it"
