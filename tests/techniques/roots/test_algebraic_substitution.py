"""The substitution u = a root, against SymPy's derivative, published tables (`test_published`), and every slip refuted."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.techniques import technique
from tests.techniques.solving import (
    X,
    board,
    check_carried,
    check_every_slip_occurs,
    check_solved,
    solved,
    tree,
    wrong_slips,
)

TECHNIQUE = technique("algebraic-substitution")

#: answers worked by hand, common practice
TABLE = [
    ("x sqrt(2x + 1)", "1/10 (2x + 1)^(5/2) - 1/6 (2x + 1)^(3/2)"),
    ("x/sqrt(2x + 1)", "1/6 (2x + 1)^(3/2) - 1/2 sqrt(2x + 1)"),
    ("1/(1 + sqrt(x))", "2 sqrt(x) - 2 ln(sqrt(x) + 1)"),
    ("1/(x^(1/3) + x^(1/4))", None),
    ("x^3/sqrt(x^2 + 4)", "1/3 (x^2 + 4)^(3/2) - 4 sqrt(x^2 + 4)"),
    ("sqrt(e^x - 1)", "2 sqrt(e^x - 1) - 2 arctan(sqrt(e^x - 1))"),
    ("e^(sqrt(x))", "2 sqrt(x) e^(sqrt(x)) - 2e^(sqrt(x))"),
    ("1/(x sqrt(x^2 - 1))", "arctan(sqrt(x^2 - 1))"),
    ("x (1 - x)^9", "1/11 (1 - x)^11 - 1/10 (1 - x)^10"),
    ("x/(x + 3)^4", "-1/(2(x + 3)^2) + 1/(x + 3)^3"),
    ("1/(e^x + e^(-x))", "arctan(e^x)"),
    ("1/(e^x - e^(-x))^2", "-1/(2(e^(2x) - 1))"),
    ("e^(3x)/(e^(2x) + 1)", "e^x - arctan(e^x)"),
    ("3x^2 (2x + 1)^6", None),
    ("1/(x + x^(-1/3))", None),
    ("5 x^2 sqrt(1 - x)", None),
    ("x cbrt(1 - x)", None),
    ("1/(sqrt(x) + cbrt(x))", None),
    ("1/(x sqrt(3x + 4))", None),
    ("(x + 1)/(x (x + 4)^(3/2))", None),
    ("1/(x sqrt(x^3 + 1))", None),
    ("sqrt(x^3)/(x + 1)", None),
    ("e^(2x)/sqrt(3 e^x + 1)", None),
    ("1/sqrt(1 + e^(2x))", None),
    ("sin(sqrt(2x - 1))", None),
    ("a x sqrt(x + 2)", None),
    ("x sqrt(a + b x)", "2(a + b x)^(5/2)/(5b^2) - 2a (a + b x)^(3/2)/(3b^2)"),
    ("x^3/sqrt(a^2 - x^2)", "-a^2 sqrt(a^2 - x^2) + 1/3 (a^2 - x^2)^(3/2)"),
    ("1/(x sqrt(a - b x^2))", None),  # S. P. Thompson, Calculus Made Easy (1914), exercise XIX.14
    ("x^2 (a - b x)^(1/3)", None),
    ("sqrt(x + 1)/(x + 5) + 0", None),
]

#: an answer of one function leaves few numbers to be wrong in
FEW_SLIPS = ("1/(e^x + e^(-x))",)

DECLINED = [
    "x^2",
    "sqrt(x^2 + 1)",
    "x sqrt(x) sqrt(x + 1)",
    "sqrt(sin(x))",
    "x sqrt(x^2 + x)",
    "e^x sqrt(x + 1)",
    "sqrt(a + b x^2)",
    "sin(x) sqrt(a + b x)",
]
DECLINED_TOO = [
    "x/sqrt(e^x + 1)",
    "(x^2)^(5/2)",
    "sqrt(x^2)/(x + 1)",
    "(x + 1) sqrt(x^2 + 1)",
    "sqrt(x + 1) sin(x)",
    "x^(1/7)/(x + 1)",
    "sqrt(e^(x^2) + 1)",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1 if text in FEW_SLIPS else 2)


@pytest.mark.parametrize("text", [*DECLINED, *DECLINED_TOO])
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "x sqrt(2x + 1)"))[1:] == [
        "u = sqrt(2x + 1); x = (u^2 - 1)/2; dx = u du",
        "1/2 ∫ u^2 (u^2 - 1) du",
        "1/2 ∫ (u^4 - u^2) du",
        "1/10 u^5 - 1/6 u^3 + C",
        "1/10 (2x + 1)^(5/2) - 1/6 (2x + 1)^(3/2) + C",
    ]


def test_the_lines_are_carried_into_others() -> None:
    for text, by in (
        ("x^2 arcsin(x)", "by-parts"),
        ("cos(x) sin(x) sqrt(1 + sin(x))", "substitution-first"),
        ("x sqrt(x + 1) + x e^x", "term-by-term"),
    ):
        check_carried(text, by)


def test_a_letter_of_the_question_is_left_out() -> None:
    assert board(solved(TECHNIQUE, "u x sqrt(x + 1)"))[1].startswith("v = sqrt(x + 1)")


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


@settings(max_examples=20)
@given(
    n=st.integers(1, 3),
    a=st.integers(-4, 5).filter(bool),
    b=st.integers(-5, 9),
    power=st.sampled_from(("(1/2)", "(-1/2)", "(1/3)", "(-3/2)", "(2/3)")),
)
def test_a_power_times_a_root(n: int, a: int, b: int, power: str) -> None:
    if not b:
        return
    solution = TECHNIQUE.work(tree(f"x^{n} ({a}*x + ({b}))^{power}"), X)
    assert solution is not None
    wrong_slips(TECHNIQUE, solution)
