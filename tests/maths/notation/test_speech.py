"""Spoken words: what a listener must be able to tell apart."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from qbank.maths.conventions import Conventions
from qbank.maths.expression import (
    Decimal,
    E,
    Expression,
    Integer,
    Integral,
    Quotient,
    Symbol,
    exp,
    rational,
    sin,
    sqrt,
)
from qbank.maths.notation import plain, speech
from tests.maths.strategies import expressions

x, y = Symbol("x"), Symbol("y")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (1 / (x + 1), 1 / x + 1),
        (exp(x + 1), exp(x) + 1),
        (exp(2 * x), E**2 * x),
        (sqrt(x) + 1, sqrt(x + 1)),
        (sin(x) ** 2, sin(x**2)),
        (sin(x) * y, sin(x * y)),
        (x / 2 * y, x / (2 * y)),
        (x * (y / 2), x * y / 2),
        (rational(1, 2) * x, 1 / (2 * x)),
        ((2 * x) ** 2, 2 * x**2),
        ((x**2) ** 3, x ** (Integer(2) ** 3)),
        (-(x**2), (-x) ** 2),
        (x - (y - 1), x - y - 1),
        (x**2 / 3, x ** rational(2, 3)),
        (sqrt(x) / 2, sqrt(x / 2)),
        (Symbol("a") * Symbol("b"), Symbol("ab")),
        (Symbol("Omega"), Symbol("omega")),
        (rational(1, 2) / 3, Integer(1) / rational(2, 3)),
    ],
    ids=str,
)
def test_pairs_that_sound_different(one: Expression, other: Expression) -> None:
    assert speech(one).replace(",", "") != speech(other).replace(",", "")


@settings(max_examples=100)
@given(one=expressions(size=5), other=expressions(size=5))
def test_what_is_written_differently_is_said_differently(one: Expression, other: Expression) -> None:
    assert (plain(one) == plain(other)) == (speech(one) == speech(other))


@pytest.mark.parametrize(
    ("top", "bottom", "words"),
    [
        (1, 2, "one half"),
        (3, 2, "three halves"),
        (2, 3, "two thirds"),
        (12, 10, "twelve tenths"),
        (13, 10, "13 over 10"),
        (1, 7, "1 over 7"),
        (0, 2, "0 over 2"),
    ],
)
def test_small_fractions(top: int, bottom: int, words: str) -> None:
    assert speech(Quotient(Integer(top), Integer(bottom))) == words


def test_decimals() -> None:
    assert speech(Decimal("0.25")) == "0 point 25"
    assert speech(Decimal("0.25"), Conventions(decimal=",")) == "0 comma 25"


def test_spoken_in_another_language() -> None:
    german = Conventions(language="de-AT", decimal=",")
    assert speech(rational(3, 4) * sin(3 * x) ** 2 + Symbol("C"), german) == (
        "drei Viertel Sinus zum Quadrat von 3 x, plus C"
    )
    assert speech(Integral(Decimal("0.5") / x, x, Integer(1), E), german) == (
        "Integral in den Grenzen 1 bis e von 0 Komma 5 durch x nach x"
    )
