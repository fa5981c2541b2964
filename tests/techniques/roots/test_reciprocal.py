"""One over a linear expression as the new letter, against SymPy's derivative on both sides, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import solve, technique
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    check_every_slip_occurs,
    check_solved,
    solved,
    tree,
)

TECHNIQUE = technique("reciprocal-substitution")

#: answers worked by hand, common practice
TABLE = [
    ("1/(x sqrt(x^2 + x + 1))", "-(abs(x) ln(1/x + 1/2 + sqrt(x^2 + x + 1)/(abs(x))))/x"),
    ("1/((x - 1) sqrt(x^2 - 1))", "-sqrt(x^2 - 1)/(x - 1)"),
    ("1/(x sqrt(3x - x^2 - 1))", "-(abs(x) arcsin((2/x - 3)/sqrt(5)))/x"),
    ("1/((x + 1)^2 sqrt(x^2 + 1))", None),
    ("1/(x^2 sqrt(x^2 + 2x))", None),
    ("1/(x^3 sqrt(x^2 + x + 1))", None),
    ("a/((2x - 1) sqrt(x^2 + 1))", None),
]

DECLINED = [
    "1/sqrt(x^2 + 1)",
    "x/sqrt(x^2 + x)",
    "1/(x (x^2 + 1))",
    "1/(x^4 sqrt(x^2 + x))",
    "1/(x sqrt(x^3 + 1))",
    "1/(x sin(x))",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_behind_parts() -> None:
    solution = solve(tree("arcsin(2x + 1/2)/x^2"), X)
    assert solution is not None
    assert solution.technique == "by-parts"
    assert agrees_with_sympy(solution)


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "1/((x - 1) sqrt(x^2 - 1))"))[1:3] == [
        "u = 1/(x - 1); x - 1 = 1/u; dx = -(1/u^2) du; sqrt(x^2 - 1) = sqrt(2u + 1)/(abs(u))",
        "-((abs(x - 1))/(x - 1)) ∫ 1/sqrt(2u + 1) du",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
