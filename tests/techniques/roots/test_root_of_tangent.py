"""Roots of tangents, against SymPy's derivative, a published answer and a published value; every slip refuted."""

from __future__ import annotations

import pytest

from qbank.maths.expression import Integral, rational
from qbank.maths.notation import plain
from qbank.techniques import technique
from qbank.techniques.definites.choosing import value_of
from tests.techniques.solving import (
    X,
    board,
    check_carried,
    check_every_slip_occurs,
    check_published,
    check_solved,
    solved,
    tree,
)

TECHNIQUE = technique("root-of-tangent")

TABLE = [
    ("sqrt(tan(x))", None),
    ("5/sqrt(tan(2x))", None),
    ("sqrt(4 cot(x + 1))", None),
    ("tan(x/2)^(3/2)", None),
    ("sqrt(tanh(x))", "-1/2 ln|sqrt(tanh x) - 1| + 1/2 ln(sqrt(tanh x) + 1) - arctan(sqrt(tanh x))"),
    ("tan(x)^(1/3)", None),
]

DECLINED = [
    "tan(x)",
    "sqrt(sin(x))",
    "sqrt(tan(x)^2)",
    "sqrt(1 + tan(x))",
    "x sqrt(tan(x))",
    "sqrt(tan(x^2))",
    "sqrt(b tan(x))",
    "sqrt(sec(x))",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=4)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_published() -> None:
    """The Rubi test suite, 0 (Timofeev's problems, chapter 5)."""
    answer = (
        "-arctan(1 - sqrt(2) sqrt(tan(x)))/sqrt(2) + arctan(1 + sqrt(2) sqrt(tan(x)))/sqrt(2)"
        " + ln(1 - sqrt(2) sqrt(tan(x)) + tan(x))/(2 sqrt(2)) - ln(1 + sqrt(2) sqrt(tan(x)) + tan(x))/(2 sqrt(2))"
    )
    check_published("RUBI00935", "sqrt(tan(x))", answer, by="root-of-tangent")


def test_a_value() -> None:
    """From 0 to pi/2 it is pi/2 sec(pi/4): DLMF 5.12.2 with 5.5.3, a = 3/4 and b = 1/4."""
    found = value_of(Integral(tree("sqrt(tan(x))"), X, rational(0), tree("pi/2")))
    assert found is not None
    assert plain(found.value) == "(sqrt(2) pi)/2"


def test_the_substitution() -> None:
    assert board(solved(TECHNIQUE, "1/sqrt(tan(x))"))[1:4] == [
        "∫ sqrt(cot x) dx",
        "u = sqrt(cot x); cot x = u^2; dx = -(2u/(u^4 + 1)) du",
        "-2 ∫ u^2/(1 + u^4) du",
    ]


def test_in_a_sum() -> None:
    check_carried("x + sqrt(tan(x))", by="term-by-term")


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
