"""The root of a square and a letter by parts, against SymPy's derivative, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import technique
from tests.techniques.solving import X, board, check_every_slip_occurs, check_solved, solved, tree

TECHNIQUE = technique("root-by-parts")

#: NIST DLMF 4.26 and 4.40 (from memory), and worked by hand
TABLE = [
    ("sqrt(x^2 + k)", "1/2 x sqrt(x^2 + k) + 1/2 k ln|x + sqrt(x^2 + k)|"),
    ("sqrt(x^2 - a^2)", "1/2 x sqrt(x^2 - a^2) - 1/2 a^2 ln|x + sqrt(x^2 - a^2)|"),
    ("sqrt(a^2 - x^2)", "1/2 x sqrt(a^2 - x^2) + 1/2 a^2 arcsin(x/(abs(a)))"),
    ("3 sqrt(c - 4x^2)", "3/2 x sqrt(c - 4x^2) + 3/4 c arcsin(2x/sqrt(c))"),
    ("sqrt((x + b)^2 - c)", "1/2 (x + b) sqrt((x + b)^2 - c) - 1/2 c ln|x + b + sqrt((x + b)^2 - c)|"),
    ("b sqrt(a^2 x^2 + 1 + c)", None),
]

DECLINED = [
    "sqrt(x^2 + 4)",
    "sqrt(4 - x^2)",
    "sqrt(x^2 + b x + c)",
    "x sqrt(x^2 + k)",
    "1/sqrt(x^2 + k)",
    "sqrt(3x^2 + k)",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=3, sympy=False)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "sqrt(x^2 - a^2)")) == [
        "∫ sqrt(x^2 - a^2) dx",
        "u = sqrt(x^2 - a^2); du = (x/sqrt(x^2 - a^2)) dx",
        "v = x; dv = dx",
        "x sqrt(x^2 - a^2) - ∫ x^2/sqrt(x^2 - a^2) dx",
        "x sqrt(x^2 - a^2) - ∫ ((x^2 - a^2) + a^2)/sqrt(x^2 - a^2) dx",
        "x sqrt(x^2 - a^2) - ∫ sqrt(x^2 - a^2) dx - a^2 ∫ 1/sqrt(x^2 - a^2) dx",
        "2 ∫ sqrt(x^2 - a^2) dx = x sqrt(x^2 - a^2) - a^2 ∫ 1/sqrt(x^2 - a^2) dx",
        "1/2 x sqrt(x^2 - a^2) - 1/2 a^2 ∫ 1/sqrt(x^2 - a^2) dx",
        "1/2 x sqrt(x^2 - a^2) - 1/2 a^2 ln|x + sqrt(x^2 - a^2)| + C",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
