"""The root of a quadratic over a linear expression, against SymPy's derivative, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import technique
from tests.techniques.solving import X, board, check_every_slip_occurs, check_solved, solved, tree

TECHNIQUE = technique("root-above-the-line")

#: answers worked by hand, common practice
TABLE = [
    ("sqrt(x^2 + 2x)/x", "sqrt(x^2 + 2x) + ln|x + 1 + sqrt(x^2 + 2x)|"),
    ("sqrt(2x - x^2)/x^2", "-arcsin(x - 1) - 2 sqrt(2x - x^2)/x"),
    ("sqrt(x^2 + x + 1)/x", None),
    ("3 sqrt(x^2 + 1)/(2x + 1)^2", None),
    ("a sqrt(x^2 + x)/(x - 1)", None),
]

DECLINED = [
    "sqrt(x^2 + 2x)",
    "sqrt(x^2 + 2x)/x^3",
    "sqrt(x + 1)/x",
    "sqrt(x^2 + x)/(x (x + 1))",
    "sqrt(x^2 + x)/sin(x)",
    "x sqrt(x^2 + x)",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=2)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "sqrt(x^2 + x + 1)/x"))[1:4] == [
        "∫ (x^2 + x + 1)/(x sqrt(x^2 + x + 1)) dx",
        "∫ ((x + 1)/sqrt(x^2 + x + 1) + 1/(x sqrt(x^2 + x + 1))) dx",
        "∫ (x + 1)/sqrt(x^2 + x + 1) dx + ∫ 1/(x sqrt(x^2 + x + 1)) dx",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
