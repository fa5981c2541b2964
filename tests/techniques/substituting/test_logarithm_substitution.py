"""The logarithm as the new letter where no 1/x stands beside it; the integral in u is for parts and its relatives."""

from __future__ import annotations

import pytest

from qbank.techniques import technique
from tests.techniques.solving import X, board, check_published, check_solved, solved, tree

TECHNIQUE = technique("logarithm-substitution")

#: integrand and the answer as a teacher writes it; read by hand
TABLE = [
    ("ln(x)/(1 + ln(x))^2", "x/(ln x + 1)"),
    ("5(ln(x) + 1)/(ln(x) + 2)^2", "5x/(ln x + 2)"),
    ("ln(ln(x)) + 1/ln(x)", "x ln(ln x)"),
    ("x (2/ln(x) - 1/ln(x)^2)", "x^2/(ln x)"),
    ("sin(ln(x)) + cos(ln(x))", "x sin(ln x)"),
    ("sin(ln(x))^2", "1/2 x - 1/10 x (cos(2 ln x) + 2 sin(2 ln x))"),
    ("x sin(ln(x)) cos(ln(x))", None),
]

DECLINED = [
    "ln(x)",
    "1/ln(x)",
    "ln(x)/x",
    "ln(ln(x))/x",
    "ln(x + 1)",
    "x + sin(ln(x))",
    "sqrt(x + ln(x))",
    "e^x ln(x)",
]

#: MIT Integration Bee (2010, 2011, 2022 and 2023) and the independent test suites of the Rubi project, as in the files beside
#: the checkout
PUBLISHED = [
    ("TAB0189", "1/ln(x) - 1/ln(x)^2", "x/ln(x)"),
    ("TAB0204", "1/ln(x) + ln(ln(x))", "x ln(ln(x))"),
    ("TAB0339", "(sec(1 + ln(x))^2 - tan(1 + ln(x)))/x^2", "tan(1 + ln(x))/x"),
    ("TAB0361", "sqrt(2 ln(x)) + 1/sqrt(2 ln(x))", "x sqrt(2 ln(x))"),
    ("RUBI00494", "ln(x)/(1 + ln(x))^2", "x/(1 + ln(x))"),
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=2)


@pytest.mark.parametrize("text", DECLINED)
def test_other_kinds_are_declined(text: str) -> None:
    solution = TECHNIQUE.work(tree(text), X)
    # the plain logarithm can be worked so too, where the planner has a shorter way
    assert solution is None or text == "ln(x)"


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, by="logarithm-substitution")


def test_board() -> None:
    """As a teacher writes it; read by hand."""
    lines = board(solved(TECHNIQUE, "ln(x)/(1 + ln(x))^2"))
    assert lines[:3] == [
        "∫ (ln x)/(1 + ln x)^2 dx",
        "u = ln x; x = e^u; dx = e^u * du",
        "∫ (u e^u)/(u + 1)^2 du",
    ]
    assert lines[-2:] == ["e^u/(u + 1) + C", "x/(ln x + 1) + C"]
