"""Roots of quadratics with letters, the square completed: proved, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import technique
from tests.techniques.solving import X, board, check_every_slip_occurs, check_solved, solved, tree

TECHNIQUE = technique("letter-square")

#: worked by hand, common practice
TABLE = [
    ("1/sqrt(2a x - x^2)", "arcsin((x - a)/(abs(a)))"),
    ("1/sqrt(x^2 + 2a x)", "ln|x + a + sqrt(x^2 + 2a x)|"),
    ("1/sqrt((x - a)(x - b))", "ln|x - 1/2 (a + b) + sqrt((x - a) (x - b))|"),
    ("sqrt(2a x - x^2)", "1/2 (x - a) sqrt(2a x - x^2) + 1/2 a^2 arcsin((x - a)/(abs(a)))"),
    ("x/sqrt(2a x - x^2)", "-sqrt(2a x - x^2) + a arcsin((x - a)/(abs(a)))"),
    (
        "sqrt(x^2 + b x + c)",
        "1/2 (x + 1/2 b) sqrt(x^2 + b x + c) - 1/8 (b^2 - 4c) ln|x + 1/2 b + sqrt(x^2 + b x + c)|",
    ),
    ("5 b/sqrt(4x^2 + 4a x + 1)", None),
]

DECLINED = [
    "1/sqrt(x^2 + c)",
    "1/sqrt(x^2 + 2x + 5)",
    "1/sqrt(x^2 + 2a x + a^2)",
    "1/(x^2 + b x + c)",
    "1/sqrt(a x^2 + x)",
    "1/(sqrt(x^2 + a x) sqrt(x^2 + b x))",
    "sin(x)/sqrt(x^2 + a x)",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1, sympy=False)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "1/sqrt(2a x - x^2)")) == [
        "∫ 1/sqrt(2a x - x^2) dx",
        "2a x - x^2 = a^2 - (x - a)^2",
        "u = x - a; du = dx",
        "∫ 1/sqrt(a^2 - u^2) du",
        "arcsin(u/(abs(a))) + C",
        "arcsin((x - a)/(abs(a))) + C",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
