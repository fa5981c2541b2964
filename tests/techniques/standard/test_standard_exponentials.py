"""Exponentials of different bases brought together; the logarithm of such a base by the laws of logarithms."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qbank.maths.deciding import decide_same_up_to_constant
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved
from qbank.techniques import technique
from qbank.techniques.planner import solve
from qbank.techniques.standard.exponential_base import logarithm_of
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    check_published,
    check_solved,
    solved,
    tree,
)

STANDARD = technique("standard-forms")

#: integrand and the answer as a teacher writes it; read by hand
TABLE = [
    ("2^x e^x", "(2 e)^x/(ln 2 + 1)"),
    ("2^x * 3^x", "6^x/(ln 6)"),
    ("2^x/3^x", "(2/3)^x/(ln(2/3))"),
    ("e^x/3^x", "(e/3)^x/(1 - ln 3)"),
    ("2^x * 3^(2x)", "18^x/(ln 18)"),
    ("5^(3x) * 2^(3x)", "10^(3x)/(3 ln 10)"),
    ("3 * 2^(x + 1) e^x", "(6(2 e)^x)/(ln 2 + 1)"),
    ("2^(-x) e^(-x)", "-(2 e)^(-x)/(ln 2 + 1)"),
    ("(2^x + 3^x)^2", "2^(2x)/(2 ln 2) + (2 * 6^x)/(ln 6) + 3^(2x)/(2 ln 3)"),
    ("a^x e^(b x)", "(a e^b)^x/(ln a + b)"),
    ("a^x/b^x", "(a/b)^x/(ln a - ln b)"),
    ("pi^x", "pi^x/(ln pi)"),
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str) -> None:
    check_solved(STANDARD, text, expected, slips=2)


@pytest.mark.parametrize(
    "text", ["2^x * (1/2)^x", "2^x e^(-x ln(2))", "(-2)^x e^x", "2^x x^2", "2^(x^2) e^x"]
)
def test_declined(text: str) -> None:
    """A base that is 1 (so that its logarithm is not divided by), not positive, or an exponent that is not linear."""
    assert STANDARD.work(tree(text), X) is None


@given(st.integers(2, 9), st.integers(2, 9), st.integers(-3, 3).filter(bool), st.integers(-3, 3).filter(bool))
def test_the_answer_of_each_by_the_law_of_exponents(a: int, b: int, m: int, n: int) -> None:
    """`a^(mx) b^(nx)` over `m ln a + n ln b`, as a handbook has it (from memory); the same up to a constant."""
    solution = STANDARD.work(tree(f"{a}^({m} x) * {b}^({n} x)"), X)
    if a**m * b**n == 1 or abs(a**m * b**n - 1) < 1e-12:
        assert solution is None or plain(solution.antiderivative) == "x"
        return
    assert solution is not None
    assert agrees_with_sympy(solution)
    handbook = tree(f"{a}^({m} x) * {b}^({n} x)/({m} ln({a}) + {n} ln({b}))")
    assert isinstance(decide_same_up_to_constant(handbook, solution.antiderivative, X), Proved)


#: the independent test suites of the Rubi project, as in the files beside the checkout
PUBLISHED = [
    ("RUBI00352", "a^x/b^x", "a^x/(b^x (ln(a) - ln(b)))"),
    ("RUBI00473", "10^x e^x", "10^x e^x/(1 + ln(10))"),
]


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, by="standard-forms")


def test_board_and_what_is_said() -> None:
    solution = solved(STANDARD, "a^x e^(b x)")
    assert board(solution) == ["∫ a^x e^(b x) dx", "∫ (a e^b)^x dx", "(a e^b)^x/(ln a + b) + C"]
    assert solution.lines[-1].reason.endswith("Here ln a + b must not be zero, for it is divided by.")


def test_beside_a_polynomial_and_after_a_substitution() -> None:
    for text, by in (("x * 2^x e^x", "by-parts"), ("2^(sin(x)) e^(sin(x)) cos(x)", "substitution")):
        solution = solve(tree(text), X)
        assert solution is not None
        assert solution.technique == by
        assert agrees_with_sympy(solution)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2 e", "ln 2 + 1"),
        ("e/3", "1 - ln 3"),
        ("3/e^2", "ln 3 - 2"),
        ("a b", "ln a + ln b"),
        ("1", None),
        ("-2 e", None),
    ],
)
def test_logarithm_of_a_base(text: str, expected: str | None) -> None:
    found = logarithm_of(tree(text))
    assert (None if found is None else plain(found)) == expected
