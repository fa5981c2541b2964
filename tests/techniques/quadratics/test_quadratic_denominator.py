"""Fractions with a quadratic below the line, solved and proved; SymPy and published tables are the outside world."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Expression, Quotient, Symbol
from qbank.maths.polynomial import polynomial_tree
from qbank.techniques.quadratics.quadratic_denominator import TECHNIQUE
from tests.techniques.quadratic_checks import (
    X,
    answers,
    assert_derivative_by_sympy,
    assert_solved,
    board,
    lines,
    tree,
    worked,
    wrong_slips,
)

TABLE = (
    "1/(x^2+4x+13)",
    "(x+3)/(x^2+2x+5)",
    "(x^2+4x+13)^(-1)",
    "5/(2x^2+8)",
    "1/(x^2+1)",
    "1/(x^2+4)",
    "1/(x^2+3)",
    "-3/(x^2+12)",
    "1/(2(x^2+9))",
    "2/3 * 1/(x^2+5)",
    "1/(4x^2+9)",
    "1/(9x^2+6x+5)",
    "7/(3x^2+2)",
    "1/(x^2+x+1)",
    "1/(x^2-3x+4)",
    "1/(2x^2+2x+1)",
    "1/(3x^2+2x+1)",
    "1/(x^2/2+x+3)",
    "1/(x^2/4+1/9)",
    "1/(-x^2-2x-5)",
    "4/(6x-x^2-10)",
    "1/((x+1)^2+4)",
    "1/((2x-1)^2+3)",
    "x/(x^2+9)",
    "(2x+4)/(x^2+4x+13)",
    "(x-2)/(3x^2+2)",
    "(1-x)/(x^2+x+1)",
    "3(x+3)/(x^2+2x+5)",
    "(x/2-1/3)/(x^2+1)",
    "-(2x+1)/(2x^2+8)",
    "x^2/(x^2+1)",
    "(x^2+3)/(x^2+1)",
    "(2x^2+3x-1)/(x^2+2x+5)",
    "(x^2-5x)/(2x^2-3x+1)",
    "(3-x^2)/(x^2+4)",
    "x^3/(x^2+4)",
    "(x^4+1)/(x^2+1)",
    "x^8/(x^2+1)",
    "x^4 (1-x)^4/(x^2+1)",  # the integral whose value from 0 to 1 is 22/7 - pi
    "(x^2+1)^2/(4-x^2)",
    "1/(x^2-4)",
    "1/(4-x^2)",
    "1/(x^2-2)",
    "3/(5-2x^2)",
    "1/(x^2+x-1)",
    "1/(x^2+5x+6)",
    "1/(6x^2+x-2)",
    "1/(x^2/2-x/3)",
    "1/((x-1)(x+2))",
    "1/((2x+2)(x-3))",
    "1/(x(x+2))",
    "(x+3)/(x^2-1)",
    "(x+1)/(x^2-1)",
    "x/((x-1)(x+1))",
    "x/(x^2+x-1)",
    "(5x-1)/(2x^2-3x-2)",
    "x^2/(x^2-1)",
    "(2x+3)/(x^2+3x+2)",
    "1/(x^2+6x+9)",
    "(x+3)/(x^2+2x+1)",
    "x/(4x^2+4x+1)",
    "x^2/(x-1)^2",
    "2(x+1)/(x+1)^3",
    "(x-5)/(2(x-1)^2)",
    "(x+1)/x^2",
    "(x+1)/(x^2+2x+1)",
    "1/(x^2+4x+1)",
    "1/(1/2-2x-2x^2)",
    "(x^2+1)/(x+1)",
    "(3+5x)/(1-2x)",
    "3(x^2+1)/(2x)",
    "(x^3-1)/(x^2+x+1)",
    "x/(x-x^3)",
    "(4x^2+x^3)/(x+x^3)",
    "(x+x^2)/(-2x-x^2+x^3)",
)

DECLINED = (
    "x^2",
    "0/(x^2+1)",
    "1/(x^3+1)",
    "x/(x^3+x^2+x+2)",
    "1/(2x+1)",
    "(x^2+1)/(x^2+1)",
    "1/(x^2+1)^2",
    "sqrt(x)/(x^2+1)",
    "1/sqrt(x^2+1)",
    "sin(x)/(x^2+1)",
    "pi/(x^2+4)",
    "1/(x^2+a^2)",
    "x^13/(x^2+1)",
    "1/(x^2+1000003^3)",
)


@pytest.mark.parametrize("text", TABLE)
def test_solved_and_proved(text: str) -> None:
    solution = worked(TECHNIQUE, text)
    assert solution.technique == TECHNIQUE.identifier
    assert_solved(solution)
    wrong_slips(TECHNIQUE, solution)


@pytest.mark.parametrize("text", TABLE[::4])
def test_derivative_by_sympy(text: str) -> None:
    assert_derivative_by_sympy(worked(TECHNIQUE, text))


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_other_letters() -> None:
    t = Symbol("t")
    assert board(worked(TECHNIQUE, "1/(t^2+1)", t)) == ["arctant"]
    assert TECHNIQUE.work(tree("1/(x^2+1)"), t) is None


def test_board_of_a_linear_numerator() -> None:
    # the lines of the example in the project's own specification of this family
    assert board(worked(TECHNIQUE, "(x+3)/(x^2+2x+5)")) == lines(
        "x + 3 = 1/2 (2x + 2) + 2",
        "1/2 ∫ (2x + 2)/(x^2 + 2x + 5) dx + 2 ∫ 1/(x^2 + 2x + 5) dx",
        "1/2 ln(x^2 + 2x + 5) + 2 ∫ 1/(x^2 + 2x + 5) dx",
        "x^2 + 2x + 5 = (x + 1)^2 + 2^2",
        "1/2 ln(x^2 + 2x + 5) + 2 ∫ 1/((x + 1)^2 + 2^2) dx",
        "1/2 ln(x^2 + 2x + 5) + arctan((x + 1)/2)",
    )


def test_board_of_surds() -> None:
    assert board(worked(TECHNIQUE, "1/(x^2+x+1)")) == lines(
        "x^2 + x + 1 = (x + 1/2)^2 + (sqrt(3)/2)^2",
        "∫ 1/((x + 1/2)^2 + (sqrt(3)/2)^2) dx",
        "(2/sqrt(3)) arctan((x + 1/2)/(sqrt(3)/2))",
        "(2/sqrt(3)) arctan((2x + 1)/sqrt(3))",
    )


def test_board_of_a_division() -> None:
    assert board(worked(TECHNIQUE, "(x^2-5x)/(2x^2-3x+1)")) == lines(
        "x^2 - 5x = 1/2 (2x^2 - 3x + 1) - 1/2 (7x + 1)",
        "∫ (1/2 - (7x + 1)/(2(2x^2 - 3x + 1))) dx",
        "1/2 x - 1/2 ∫ (7x + 1)/(2x^2 - 3x + 1) dx",
        "2x^2 - 3x + 1 = (x - 1)(2x - 1)",
        "(7x + 1)/((x - 1)(2x - 1)) = 8/(x - 1) - 9/(2x - 1)",
        "1/2 x - 1/2 ∫ (8/(x - 1) - 9/(2x - 1)) dx",
        "1/2 x + 9/4 ln|2x - 1| - 4 ln|x - 1|",
    )


def test_board_of_cancelling() -> None:
    assert board(worked(TECHNIQUE, "(4x^2+x^3)/(2x+2x^3)"))[:4] == lines(
        "1/2 ∫ (x^2 + 4x)/(x^2 + 1) dx",
        "x^2 + 4x = (x^2 + 1) + (4x - 1)",
        "1/2 ∫ (1 + (4x - 1)/(x^2 + 1)) dx",
        "1/2 x + 1/2 ∫ (4x - 1)/(x^2 + 1) dx",
    )


def test_board_of_a_division_without_remainder() -> None:
    assert board(worked(TECHNIQUE, "2(x^3-1)/(x^2+x+1)")) == lines(
        "x^3 - 1 = (x - 1)(x^2 + x + 1)", "2 ∫ (x - 1) dx", "x^2 - 2x"
    )


def test_board_of_a_double_root() -> None:
    assert board(worked(TECHNIQUE, "x/(4x^2+4x+1)")) == lines(
        "4x^2 + 4x + 1 = (2x + 1)^2",
        "x = 1/2 (2x + 1) - 1/2",
        "1/2 ∫ (1/(2x + 1) - 1/(2x + 1)^2) dx",
        "1/4 ln|2x + 1| + 1/(4(2x + 1))",
    )


@pytest.mark.parametrize(
    ("text", "answer"),
    [
        ("1/(4-x^2)", "1/4 ln|(x + 2)/(x - 2)|"),
        ("1/(x^2+12)", "(1/(2 sqrt(3))) arctan(x/(2 sqrt(3)))"),
        ("6/(x^2+3)", "2 sqrt(3) arctan(x/sqrt(3))"),
        ("1/(3x^2+2)", "(1/sqrt(6)) arctan((sqrt(6) x)/2)"),
        ("1/(x^2-2)", "(1/(2 sqrt(2))) ln|(x - sqrt(2))/(x + sqrt(2))|"),
        ("x^2/(x^2+1)", "x - arctan x"),
        ("(x+1)/(x^2-1)", "ln|x - 1|"),
        ("1/(x^2+6x+9)", "-1/(x + 3)"),
    ],
)
def test_answers_in_a_teachers_hand(text: str, answer: str) -> None:
    assert board(worked(TECHNIQUE, text))[-1:] == lines(answer)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (
            "1/(x^2+4x+13)",
            {
                "factor-of-inverse-tangent-forgotten": "arctan((x + 2)/3)",
                "root-of-the-number-not-taken": "1/9 arctan((x + 2)/9)",
                "logarithm-of-any-denominator": "ln(x^2 + 4x + 13)",
                "logarithm-divided-by-a-derivative-that-varies": "(ln(x^2 + 4x + 13))/(2x + 4)",
                "sign-when-completing-the-square": "1/3 arctan((x - 2)/3)",
                "square-not-balanced": "(1/sqrt(13)) arctan((x + 2)/sqrt(13))",
                "inverse-sine-for-inverse-tangent": "arcsin((x + 2)/3)",
                "sum-and-difference-of-squares-confused": "1/6 ln|(x - 1)/(x + 5)|",
            },
        ),
        (
            "x/(x^2+9)",
            {
                "half-of-the-logarithm-lost": "ln(x^2 + 9)",
                "two-before-logarithm-multiplied": "2 ln(x^2 + 9)",
                "inverse-tangent-with-derivative-above": "1/3 arctan(x/3)",
                "numerator-and-reciprocal-integrated-apart": "1/6 x^2 arctan(x/3)",
            },
        ),
        (
            "(x+3)/(x^2-1)",
            {
                "logarithm-of-any-denominator": "ln|x^2 - 1|",
                "numbers-before-logarithms-lost": "ln|(x - 1)/(x + 1)|",
                "numerators-of-fractions-swapped": "2 ln|x + 1| - ln|x - 1|",
                "logarithms-added-for-subtracted": "2 ln|x - 1| + ln|x + 1|",
                "other-bracket-not-divided-by": "4 ln|x - 1| + 2 ln|x + 1|",
            },
        ),
        (
            "(3x+1)/((x-3)(x+2))",
            {
                "logarithm-of-any-denominator": "ln|(x - 3) (x + 2)|",
                "numbers-before-logarithms-lost": "ln|x - 3| + ln|x + 2|",
                "numerators-of-fractions-swapped": "ln|x - 3| + 2 ln|x + 2|",
                "logarithms-subtracted-for-added": "2 ln|x - 3| - ln|x + 2|",
                "other-bracket-not-divided-by": "10 ln|x - 3| - 5 ln|x + 2|",
            },
        ),
        (
            "(x+3)/(x+1)^2",
            {
                "logarithm-of-any-denominator": "ln|(x + 1)^2|",
                "minus-of-reciprocal-lost": "ln|x + 1| + 2/(x + 1)",
                "negative-power-moved-the-wrong-way": "ln|x + 1| - 2/(3(x + 1)^3)",
                "second-part-of-fraction-forgotten": "ln|x + 1|",
            },
        ),
    ],
)
def test_what_students_write(text: str, wanted: dict[str, str]) -> None:
    found = answers(TECHNIQUE, worked(TECHNIQUE, text))
    assert found == {slip: lines(answer)[0] for slip, answer in wanted.items()}


def test_every_slip_occurs() -> None:
    found: set[str] = set()
    for text in TABLE:
        found |= {slip.slip for slip in TECHNIQUE.wrong_answers(worked(TECHNIQUE, text))}
    assert found == {slip.identifier for slip in TECHNIQUE.slips}


numbers = st.integers(-9, 9).map(Fraction)
halves = st.builds(Fraction, numbers, st.integers(1, 4))


@st.composite
def fractions(draw: st.DrawFn) -> Expression:
    """Up to a cubic over a quadratic, the coefficients of either kind."""
    some = draw(st.sampled_from([numbers, halves]))
    over = draw(st.lists(some, min_size=1, max_size=4).filter(any))
    under = (*draw(st.tuples(some, some)), draw(some.filter(bool)))
    # a fraction that is a number, written with one tree above and below, is no integrand of this kind
    # (or with x cancelling out of a power of x)
    assume(any(under[:2]))
    assume(tuple(over) != tuple(over[-1] / Fraction(under[-1]) * c for c in under))
    return Quotient(polynomial_tree(tuple(over), X), polynomial_tree(under, X))


@settings(max_examples=30)
@given(fractions())
def test_always_solved_and_every_slip_wrong(integrand: Expression) -> None:
    solution = TECHNIQUE.work(integrand, X)
    assert solution is not None
    assert_solved(solution)
    wrong_slips(TECHNIQUE, solution)
