"""Partial fractions, against published tables, SymPy's own decomposition, and every slip refuted."""

from __future__ import annotations

import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.oracle import to_sympy
from qbank.techniques import solve, technique
from qbank.techniques.fractions.partial_fractions import TECHNIQUE
from qbank.techniques.fractions.partial_fractions_plan import partial_plan
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    check_every_slip_occurs,
    check_solved,
    solved,
    tree,
    wrong_slips,
)

TABLE = [
    ("1/(x^3 - x)", "-ln|x| + 1/2 ln|x - 1| + 1/2 ln|x + 1|"),
    ("(5x + 1)/((x - 1)(x + 2)(2x + 1))", "2/3 ln|x - 1| - ln|x + 2| + 1/3 ln|2x + 1|"),
    ("1/(x^2 (x + 1))", "-ln|x| - 1/x + ln|x + 1|"),
    ("(x^2 + 1)/(x + 1)^3", "ln|x + 1| + 2/(x + 1) - 1/(x + 1)^2"),
    ("(x + 5)/((x - 1)(x^2 + 1))", "3 ln|x - 1| - 3/2 ln(x^2 + 1) - 2 arctan x"),
    ("1/(x^4 - 1)", "1/4 ln|x - 1| - 1/4 ln|x + 1| - 1/2 arctan x"),
    ("1/((x - 1)(x + 2))", "1/3 ln|x - 1| - 1/3 ln|x + 2|"),
    ("x^4/(x^3 - 1)", None),
    ("1/(x^4 + 4)", None),
    ("5x^3/(2x^3 + 4x^2 - 6x - 12)", None),
    ("-7/(3 (1 - x)^2 (x + 4)^2)", None),
    ("(2x^4 + 1)/(x (x^2 - 2) (x + 1))", None),
    ("x^2/(1 - x^2)^2", None),
    ("1/(x (x^2 + 1)^2)", "ln|x| - 1/2 ln(x^2 + 1) + 1/(2(x^2 + 1))"),
    ("(x^2 + x + 3)/((x - 1)(x^2 + 2x + 5)^2)", None),
    ("(x^3 + 2)/((x^2 + 1)(x^2 + 4)^2)", None),
    ("1/(x^6 + 1)", None),
    ("1/((x - 1)(x^4 + 1))", None),
]

DECLINED = ["1/(x^2 + 1)", "1/x", "x^3", "1/(2x + 1)", "1/(x^2 + 1)^2", "1/(x^5 + x + 1)", "x/(sin(x) - 1)"]
FOURTH_POWERS_DECLINED = ["1/((x + 1)(x^4 + x + 1))", "1/((x + 1)(x^4 + 2))", "1/(x^4 + 1)"]
DECLINED_TOO = ["(x^2 - 1)/(x + 1)", "1/((x + 1)(x^3 + x + 1))", "1/(a x^2 - 1)", "e^x/(x^3 - x)"]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    solution = check_solved(TECHNIQUE, text, expected, slips=1)
    plan = partial_plan(solution.integrand, X)
    assert plan is not None
    assert plan.answer() == solution.antiderivative


@pytest.mark.parametrize("text", [row[0] for row in TABLE])
def test_the_simple_fractions_are_those_of_sympy(text: str) -> None:
    plan = partial_plan(tree(text), X)
    assert plan is not None
    x = sympy.Symbol("x", real=True)
    below = to_sympy(plan.below())
    found = to_sympy(plan.fractions()) * sympy.Rational(plan.size.numerator, plan.size.denominator)
    wanted = sympy.apart(to_sympy(plan.left.over_tree) / below, x)
    assert sympy.simplify(found - wanted) == 0


@pytest.mark.parametrize("text", [*DECLINED, *DECLINED_TOO, *FOURTH_POWERS_DECLINED])
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_numerators_are_found_line_by_line() -> None:
    assert board(solved(TECHNIQUE, "(x + 5)/((x - 1)(x^2 + 1))"))[1:8] == [
        "(x + 5)/((x - 1) (x^2 + 1)) = A/(x - 1) + (B x + D)/(x^2 + 1)",
        "x + 5 = A (x^2 + 1) + (B x + D) (x - 1)",
        "6 = 2A; A = 3",
        "0 = A + B; B = -3",
        "1 = -B + D; D = -2",
        "∫ (3/(x - 1) - (3x + 2)/(x^2 + 1)) dx",
        "3 ln|x - 1| - ∫ (3x + 2)/(x^2 + 1) dx",
    ]


def test_a_power_of_a_quadratic_is_for_the_tangent() -> None:
    lines = board(solved(TECHNIQUE, "(x^2 + x + 3)/((x - 1)(x^2 + 2x + 5)^2)"))
    assert "3x + 1 = 3/2 (2x + 2) - 2" in lines
    assert "t = arctan((x + 1)/2); x + 1 = 2 tan t; dx = 2 sec^2 t dt; x^2 + 2x + 5 = 4 sec^2 t" in lines
    # the inverse tangents of two fractions are one in the end
    assert (lines[-2].count("arctan"), lines[-1].count("arctan")) == (2, 1)


def test_equations_are_solved_together_where_no_letter_stands_alone() -> None:
    lines = board(solved(TECHNIQUE, "1/(x^4 + 4)"))
    assert "0 = A + D; 0 = 2A + B - 2D + E; 0 = 2A + 2B + 2D - 2E; 1 = 2B + 2E" in lines
    assert "A = -1/8; B = 1/4; D = 1/8; E = 1/4" in lines


def test_letters_of_the_question_are_left_out_when_lines_are_carried() -> None:
    solution = solve(tree("e^x/((e^x - 1)(e^x + 1)(e^x + 2)) + A"), X)
    assert solution is None or "A/" not in "".join(board(solution))
    sums = technique("term-by-term")
    twice = solved(sums, "1/(x^3 - x) + 1/(x^2 (x + 1)^2)")
    assert agrees_with_sympy(twice)


def test_a_shorter_way_is_taken() -> None:
    for text, shorter in (
        ("1/(x^2 - 1)", "quadratic-denominator"),
        ("x/(x^4 - 1)", "substitution-first"),
        ("(3x^2 - 1)/(x^3 - x)", "substitution"),
    ):
        found = solve(tree(text), X)
        assert found is not None
        assert found.technique == shorter


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


ROOTS = st.lists(st.integers(-6, 6), min_size=2, max_size=3, unique=True)


@settings(max_examples=20)
@given(
    roots=ROOTS, top=st.integers(1, 9), slope=st.integers(-4, 4), squared=st.booleans(), k=st.integers(0, 4)
)
def test_always_solved(roots: list[int], top: int, slope: int, squared: bool, k: int) -> None:
    below = "*".join(f"(x - ({root}))" for root in roots)
    if squared:
        below += f"*(x - ({roots[0]}))"
    if k and len(roots) < 3:
        below += f"*(x^2 + {k})"
    solution = TECHNIQUE.work(tree(f"({slope}*x + {top})/({below})"), X)
    if solution is not None:
        assert agrees_with_sympy(solution)
        wrong_slips(TECHNIQUE, solution)
    else:
        # only where a common factor leaves a single bracket
        assert any(slope * root + top == 0 for root in roots)
