"""Coefficients marked in rational arithmetic, whatever way the numbers are typed in."""

from __future__ import annotations

import pytest

from qbank.marking.coefficients import CoefficientsMarker
from tests.items.forms import form_of, item_of


def marker(name: str) -> CoefficientsMarker:
    return CoefficientsMarker(form_of(name), item_of(name).marks)


@pytest.mark.parametrize(
    ("name", "typed", "outcome", "score"),
    [
        ("fourth-power", ("3/8", "1/8", "1/64"), "correct", 1.0),
        ("fourth-power", ("6/16", "0.125", "-1/-64"), "correct", 1.0),
        ("fourth-power", ("3/8", "1/8", "0.0156"), "incorrect", 4 / 6),
        ("fourth-power", ("3/8", "-1/8", "-1/64"), "incorrect", 2 / 6),
        ("fourth-power", ("3/8", "", "7"), "incorrect", 2 / 6),
        ("fourth-power", ("0", "0", "0"), "incorrect", 0.0),
        ("fourth-power", ("x", "sin x", "1/0"), "unreadable", None),
        ("fourth-power", ("", "(", "2"), "unreadable", None),
        # A sin^2 x + B cos^2 x + D cos 2x has the derivative (A - B - 2D) sin 2x: right exactly when that is 1/2
        ("two-squares", ("0", "0", "1/2"), "correct", 1.0),
        ("two-squares", ("0", "-1/2", "0"), "correct", 1.0),
        ("two-squares", ("-1/4", "0", "0"), "correct", 1.0),
        ("two-squares", ("1/2", "1", "5/2"), "correct", 1.0),
        ("two-squares", ("0", "1/2", "1/2"), "incorrect", 0.0),
        ("two-squares", ("0", "0", "0.5001"), "incorrect", 0.0),
        ("decimals", ("3.375", "0.5625", "0.0703"), "correct", 1.0),
        ("decimals", ("27/8", "9/16", "9/128"), "correct", 1.0),
        ("decimals", ("3.375", "0.5625", "0.0713"), "incorrect", 4 / 6),
        ("decimals", ("3.375", "-0.5625", "-0.0703"), "incorrect", 2 / 6),
    ],
)
def test_marks(name: str, typed: tuple[str, ...], outcome: str, score: float | None) -> None:
    letters = [letter.name for letter in form_of(name).letters]
    mark = marker(name).mark(dict(zip(letters, typed, strict=True)))
    assert (mark.outcome, mark.score) == (outcome, score)
    assert mark.message


def test_slips_are_named() -> None:
    mark = marker("fourth-power").mark({"P": "3/8", "Q": "-1/8", "R": "-1/64"})
    assert mark.slip == "double-angle-sign"
    assert mark.message.startswith("Not this one.")
    mark = marker("decimals").mark({"P": "3.375", "Q": "-0.5625", "R": "-0.0703"})
    assert mark.slip == "double-angle-sign"


def test_what_was_not_read_is_named() -> None:
    mark = marker("two-squares").mark({"P": "1", "Q": "x"})
    assert mark.message == "No number was read for Q, R."


def test_how_it_was_decided() -> None:
    assert "relations" in marker("two-squares").mark(dict.fromkeys("PQR", "1")).proof
    assert "relations" not in marker("fourth-power").mark(dict.fromkeys("PQR", "1")).proof
    assert "decimal place 4" in marker("decimals").mark(dict.fromkeys("PQR", "1")).proof
