"""Powers of two linear expressions with their quotient as the letter, against SymPy's derivative, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import technique
from tests.techniques.solving import (
    X,
    board,
    check_every_slip_occurs,
    check_published,
    check_solved,
    solved,
    tree,
)

TECHNIQUE = technique("quotient-as-letter")

#: worked by hand, common practice
TABLE = [
    ("sqrt(1 + x)/(1 - x)^(5/2)", "1/3 ((x + 1)/(1 - x))^(3/2)"),
    ("1/((x + 1)^(3/2) sqrt(x + 3))", "-1/sqrt((x + 1)/(x + 3))"),
    ("(2x + 1)^(1/3)/(x - 1)^(7/3)", "-1/4 ((2x + 1)/(x - 1))^(4/3)"),
    ("sqrt(x + 1)/(x - 1)^(7/2)", "-1/10 ((x + 1)/(x - 1))^(5/2) + 1/6 ((x + 1)/(x - 1))^(3/2)"),
    ("3 a/((x - 1)^(3/4) (x + 2)^(5/4))", None),
    ("1/((1 - x)^(5/2) (1 + x)^(5/2))", None),
]

DECLINED = [
    "sqrt(1 + x) sqrt(1 - x)",
    "sqrt(1 + x)/(1 - x)^2",
    "sqrt(1 + x)/(1 - x)^(3/2)",
    "sqrt(1 + x)/(2 + 2x)^(5/2)",
    "sqrt(1 + x^2)/(1 - x)^(5/2)",
    "sqrt(1 + x)/(1 - x)^(21/2)",
]

#: Rubi's test suite, as in the file beside the checkout
PUBLISHED = [
    ("RUBI01133", "sqrt(1 + x)/(1 - x)^(5/2)", "1/3 (1 + x)^(3/2)/(1 - x)^(3/2)"),
    (
        "RUBI01125",
        "1/((1 - x)^(5/2) (1 + x)^(5/2))",
        "1/3 x/((1 - x)^(3/2) (1 + x)^(3/2)) + 2/3 x/(sqrt(1 - x) sqrt(1 + x))",
    ),
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, by="quotient-as-letter")


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "1/((1 - x)^(5/2) (1 + x)^(5/2))"))[1:4] == [
        "u = (1 - x)/(x + 1); x + 1 = 2/(u + 1); du = (-2/(x + 1)^2) dx",
        "-1/16 ∫ (u + 1)^3/u^(5/2) du",
        "-1/16 ∫ (sqrt(u) + 3/sqrt(u) + 3/u^(3/2) + 1/u^(5/2)) du",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
