"""Sines and cosines of two angles that differ by a constant, against SymPy's derivative, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import technique
from tests.techniques.solving import X, board, check_every_slip_occurs, check_solved, solved, tree

TECHNIQUE = technique("shifted-angles")

#: answers worked by hand, common practice
TABLE = [
    ("sin(x)/sin(x + a)", "x cos a - sin a * ln|sin(x + a)|"),
    ("cos(x)/cos(x + 1)", "x cos 1 - (sin 1) ln|cos(x + 1)|"),
    ("3 sin(2x + 1)/cos(2x)", "-3/2 (cos 1) ln|cos 2x| + 3x sin 1"),
    ("cos(x - a)/sin(x + b)", "cos(a + b) ln|sin(x + b)| + x sin(a + b)"),
    ("sin(x + pi/4)/sin(x)", "(sqrt(2)/2) x + (sqrt(2)/2) ln|sin x|"),
    ("sin(x + pi/2)/sin(x)", "ln|sin x|"),
    ("cos(x) sec(x - pi/3)", "1/2 x + (sqrt(3)/2) ln|cos(x - pi/3)|"),
    ("k sin(x)/sin(x + 2pi/3)", None),
    ("1/(sin(x - a) sin(x - b))", "(ln|(sin(x - a))/(sin(x - b))|)/(sin(a - b))"),
    ("1/(cos(x) cos(x + a))", "(ln|(cos x)/(cos(x + a))|)/(sin a)"),
    ("1/(sin(x) cos(x + a))", "(ln|(sin x)/(cos(x + a))|)/(cos a)"),
    ("cosec(x) cosec(x + pi/6)", "2 ln|(sin x)/(sin(x + pi/6))|"),
    ("5/(2 sin(b x) sin(b x + a))", "(5 ln|(sin b x)/(sin(b x + a))|)/(2b sin a)"),
    ("1/(cos(2x) cos(2x + pi/3))", "(ln|(cos 2x)/(cos(2x + pi/3))|)/sqrt(3)"),
]

DECLINED = [
    "sin(x)/sin(2x + 1)",
    "sin(x)/sin(x)",
    "sin(x) sin(x + 1)",
    "1/(sin(x) sin(x + pi))",
    "1/(sin(x) cos(x + pi/2))",
    "sin(x)^2/sin(x + 1)",
    "sin(x) sin(x + 1)/sin(x + 2)",
    "tan(x)/sin(x + 1)",
    "x sin(x)/sin(x + 1)",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=2)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board_of_a_quotient() -> None:
    assert board(solved(TECHNIQUE, "sin(x)/sin(x + a)")) == [
        "∫ (sin x)/(sin(x + a)) dx",
        "x = (x + a) - a; sin x = cos a * sin(x + a) - sin a * cos(x + a)",
        "∫ (cos a - sin a * cot(x + a)) dx",
        "x cos a - sin a * ln|sin(x + a)| + C",
    ]


def test_the_board_of_a_product_below_the_line() -> None:
    assert board(solved(TECHNIQUE, "cosec(x) cosec(x + pi/6)")) == [
        "∫ cosec x cosec(x + pi/6) dx",
        "sin(pi/6) = sin(x + pi/6) cos x - cos(x + pi/6) sin x; sin(pi/6) = 1/2",
        "2 ∫ (sin(x + pi/6) cos x - cos(x + pi/6) sin x)/(sin(x + pi/6) sin x) dx",
        "2 ∫ (cot x - cot(x + pi/6)) dx",
        "2 ln|sin x| - 2 ln|sin(x + pi/6)| + C",
        "2 ln|(sin x)/(sin(x + pi/6))| + C",
    ]


def test_what_must_not_be_zero_is_said() -> None:
    reasons = [line.reason for line in solved(TECHNIQUE, "1/(cos(x) cos(x + a))").lines]
    assert any("sin a must not be zero" in reason for reason in reasons)
    assert not any("must not" in line.reason for line in solved(TECHNIQUE, "1/(cos(x) cos(x + 1))").lines)


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
