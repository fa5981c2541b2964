"""Roots below the line, by the conjugate and in a fraction, against SymPy's derivative, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import technique
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    check_every_slip_occurs,
    check_solved,
    solved,
    tree,
)

CONJUGATES, FRACTIONS = technique("rationalised-denominator"), technique("root-of-fraction")

#: answers worked by hand, common practice
SUMS = [
    ("1/(sqrt(x) + sqrt(x + 1))", "2/3 (x + 1)^(3/2) - 2/3 x^(3/2)"),
    ("1/(sqrt(3x + 2) - sqrt(3x - 2))", "1/18 (3x + 2)^(3/2) + 1/18 (3x - 2)^(3/2)"),
    ("x/(x + sqrt(x^2 - 1))", "1/3 x^3 - 1/3 (x^2 - 1)^(3/2)"),
    ("1/(x - sqrt(x^2 + 1))", None),
    ("x/(sqrt(x + 1) - sqrt(x))", None),
]

#: T. M. Apostol's course has ((a + x)/(a - x))^(1/2); with numbers for its letter here
ROOTS = [
    ("sqrt((1 + x)/(1 - x))", "-sqrt(1 - x^2) + arcsin x"),
    ("sqrt((1 - x)/x)", "sqrt(x - x^2) + 1/2 arcsin(2x - 1)"),
    ("1/sqrt((x - 2)/(5 - x))", "sqrt(-x^2 + 7x - 10) + 3/2 arcsin((2x - 7)/3)"),
    ("sqrt((3 + x)/(3 - x))", None),
    ("sqrt((x - 5)/(2 - x))", None),
    ("x sqrt((1 + x)/(1 - x))", None),
    ("sqrt((1 - x)/(1 + x))/x^2", None),
]

#: real on two parts of the line, the numerator positive on one of them
TWO_PARTS = ["sqrt((x - 1)/(x + 1))", "sqrt(x/(x + 1))", "1/((x - 1) sqrt((x + 1)/(x - 1)))"]

DECLINED = [
    "1/(1 + sqrt(x) + x)",
    "1/(sqrt(2x + 3) + sqrt(x))",
    "1/(x + 1)",
    "1/(1 + sqrt(a))",
    "1/(sin(x) + sqrt(x))",
]
NO_FRACTION = [
    "sqrt(x)/sqrt(x + 1)",
    "sqrt((x^2 + 1)/x)",
    "((x - 1)/x)^(3/2)",
    "sqrt((x + 1)/(2x + 2))",
    "sqrt(a/(b + 1))",
]


@pytest.mark.parametrize(("text", "expected"), SUMS)
def test_conjugates(text: str, expected: str | None) -> None:
    check_solved(CONJUGATES, text, expected, slips=1)


@pytest.mark.parametrize(("text", "expected"), ROOTS)
def test_roots_of_fractions(text: str, expected: str | None) -> None:
    check_solved(FRACTIONS, text, expected, slips=1)


@pytest.mark.parametrize("text", TWO_PARTS)
def test_both_parts_of_the_domain(text: str) -> None:
    assert agrees_with_sympy(solved(FRACTIONS, text))


@pytest.mark.parametrize("text", DECLINED)
def test_no_conjugate(text: str) -> None:
    assert CONJUGATES.work(tree(text), X) is None


@pytest.mark.parametrize("text", NO_FRACTION)
def test_no_fraction_under_a_root(text: str) -> None:
    assert FRACTIONS.work(tree(text), X) is None


def test_the_boards() -> None:
    assert board(solved(CONJUGATES, "1/(sqrt(x) + sqrt(x + 1))"))[1:3] == [
        "(sqrt(x) + sqrt(x + 1)) (sqrt(x + 1) - sqrt(x)) = 1",
        "∫ (sqrt(x + 1) - sqrt(x)) dx",
    ]
    assert board(solved(FRACTIONS, "sqrt((x - 1)/(x + 1))"))[1:3] == [
        "∫ (abs(x - 1))/sqrt(x^2 - 1) dx",
        "((abs(x - 1))/(x - 1)) ∫ (x - 1)/sqrt(x^2 - 1) dx",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(CONJUGATES, (text for text, _ in SUMS))
    check_every_slip_occurs(FRACTIONS, (text for text, _ in ROOTS))
