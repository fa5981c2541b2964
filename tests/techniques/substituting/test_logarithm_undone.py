"""Exponentials of logarithms inside an integrand, against SymPy's derivative, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import technique
from tests.techniques.solving import (
    X,
    board,
    check_every_slip_occurs,
    check_solved,
    solved,
    tree,
    wrong_slips,
)

TECHNIQUE = technique("logarithm-undone")

#: answers worked by hand, common practice
TABLE = [
    ("e^(3 ln(x))/(x^4 + 1)", "1/4 ln(x^4 + 1)"),
    ("(e^(6 ln(x)) - e^(5 ln(x)))/(e^(4 ln(x)) - e^(3 ln(x)))", "1/3 x^3"),
    ("x exp(2 ln(x) )sin(x)", None),
    ("sin(x) e^(ln(x))", "-x cos x + sin x"),
    ("e^(1/2 ln(x)) + e^(-ln(x))", None),
    ("e^(2 ln(sin(x))) cos(x)", None),
]

DECLINED = ["e^x ln(x)", "e^(x ln(2))", "e^(ln(x) + x)", "x^2", "e^(3 ln(x)) sin(x^2)^x"]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1)


def test_a_logarithm_by_itself_is_no_number_taken_for_a_factor() -> None:
    assert "undone-number-as-factor" not in wrong_slips(TECHNIQUE, solved(TECHNIQUE, "sin(x) e^(ln(x))"))


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "e^(3 ln(x))/(x^4 + 1)"))[:2] == [
        "∫ e^(3 ln x)/(x^4 + 1) dx",
        "∫ x^3/(x^4 + 1) dx",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
