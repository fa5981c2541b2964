"""Roots of a quadratic below the line, solved and proved; SymPy and published tables are the outside world."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Expression, Quotient, Root, Symbol
from qbank.maths.polynomial import polynomial_tree
from qbank.techniques.quadratics.root_of_quadratic import TECHNIQUE
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
    "1/sqrt(9-x^2)",
    "1/sqrt(1-x^2)",
    "1/sqrt(5-x^2)",
    "3/sqrt(4-x^2)",
    "-2/(3sqrt(16-x^2))",
    "1/sqrt(9-4x^2)",
    "1/sqrt(2-3x^2)",
    "1/sqrt(8-2x^2)",
    "1/sqrt(5+4x-x^2)",
    "1/sqrt(x-x^2)",
    "1/sqrt(3-2x-5x^2)",
    "1/sqrt(6x-x^2)",
    "1/sqrt(7-6x-x^2)",
    "1/sqrt(-x^2-4x)",
    "1/sqrt(1-(x-2)^2)",
    "1/sqrt(9-(2x+1)^2)",
    "1/sqrt(1/4-x^2)",
    "1/sqrt(2x-x^2/3)",
    "(5+4x-x^2)^(-1/2)",
    "4(9-x^2)^(-1/2)",
    "x/sqrt(9-x^2)",
    "(x+3)/sqrt(5+4x-x^2)",
    "(2x-1)/sqrt(1-x^2)",
    "2x/sqrt(3-2x-5x^2)",
    "(1-x)/sqrt(2x-x^2)",
    "5(x+1)/sqrt(4-x^2)",
    "-(x-2)/sqrt(3-x-x^2)",
    "(3x/2+1)/sqrt(2-x^2)",
    "1/sqrt(x^2+4)",
    "1/sqrt(x^2+1)",
    "1/sqrt(x^2-4)",
    "1/sqrt(x^2+4x+13)",
    "(x^2+4x+13)^(-1/2)",
    "1/sqrt(x^2+x)",
    "1/sqrt(x^2+2x-3)",
    "3/sqrt(2x^2+8)",
    "1/sqrt(4x^2+9)",
    "1/sqrt(4x^2+4x+10)",
    "1/sqrt(3x^2+2)",
    "1/sqrt(8x^2-3)",
    "1/sqrt(9x^2+6x-8)",
    "1/sqrt(3x^2+5x-2)",
    "1/sqrt(x^2/4+1)",
    "1/sqrt(x^2/2-x+3)",
    "1/sqrt((x-1)(x+3))",
    "1/((x-1)(x+3))^(1/2)",
    "1/sqrt((x+1)^2+4)",
    "x/sqrt(x^2+1)",
    "(2x+1)/sqrt(x^2+x+1)",
    "(x+1)/sqrt(x^2+4)",
    "(x-1)/sqrt(x^2-2x+5)",
    "(3x-1)/sqrt(x^2+4x+13)",
    "(t+1)/sqrt(3t^2+2)",
    "(2-x)/sqrt(2x^2+x)",
    "-4(x+1)/(3sqrt(x^2-9))",
    "7/(2sqrt(5x^2+1))",
)

DECLINED = (
    "sqrt(x^2+1)",
    "1/(x^2+1)",
    "1/sqrt(x+1)",
    "1/sqrt(x^2+2x+1)",
    "1/sqrt(-x^2-1)",
    "x^2/sqrt(x^2+1)",
    "sqrt(x)/sqrt(x^2+1)",
    "1/sqrt(x^2+1)^3",
    "1/sqrt(x^3+1)",
    "sin(x)/sqrt(1-x^2)",
    "1/sqrt(x^2+a^2)",
    "1/sqrt(x^2+1000003^3)",
    "1/sqrt(1000003^3 x^2+1000003^3)",
)


def letter(text: str) -> Symbol:
    return Symbol("t") if "t^2" in text else X


@pytest.mark.parametrize("text", TABLE)
def test_solved_and_proved(text: str) -> None:
    solution = worked(TECHNIQUE, text, letter(text))
    assert solution.technique == TECHNIQUE.identifier
    assert_solved(solution)
    wrong_slips(TECHNIQUE, solution)


@pytest.mark.parametrize("text", TABLE[::4])
def test_derivative_by_sympy(text: str) -> None:
    assert_derivative_by_sympy(worked(TECHNIQUE, text, letter(text)))


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_board_of_an_inverse_sine() -> None:
    assert board(worked(TECHNIQUE, "(x+3)/sqrt(5+4x-x^2)")) == lines(
        "x + 3 = -1/2 (4 - 2x) + 5",
        "-1/2 ∫ (4 - 2x)/sqrt(5 + 4x - x^2) dx + 5 ∫ 1/sqrt(5 + 4x - x^2) dx",
        "-sqrt(5 + 4x - x^2) + 5 ∫ 1/sqrt(5 + 4x - x^2) dx",
        "5 + 4x - x^2 = 3^2 - (x - 2)^2",
        "-sqrt(5 + 4x - x^2) + 5 ∫ 1/sqrt(3^2 - (x - 2)^2) dx",
        "-sqrt(5 + 4x - x^2) + 5 arcsin((x - 2)/3)",
    )


def test_board_of_a_logarithm() -> None:
    assert board(worked(TECHNIQUE, "3/sqrt(2x^2+8)")) == lines(
        "2x^2 + 8 = 2(x^2 + 2^2)",
        "(3/sqrt(2)) ∫ 1/sqrt(x^2 + 2^2) dx",
        "(3/sqrt(2)) ln(x + sqrt(x^2 + 2^2))",
        "(3/sqrt(2)) ln(x + sqrt(x^2 + 4))",
    )


@pytest.mark.parametrize(
    ("text", "answer"),
    [
        ("1/sqrt(x-x^2)", "arcsin(2x - 1)"),
        ("1/sqrt(9-4x^2)", "1/2 arcsin(2x/3)"),
        ("x/sqrt(x^2+1)", "sqrt(x^2 + 1)"),
        ("1/sqrt(x^2-4)", "ln|x + sqrt(x^2 - 4)|"),
        ("1/sqrt(4x^2+4x+10)", "1/2 ln(2x + 1 + sqrt(4x^2 + 4x + 10))"),
        ("1/sqrt((x-1)(x+3))", "ln|x + 1 + sqrt((x - 1)(x + 3))|"),
    ],
)
def test_answers_in_a_teachers_hand(text: str, answer: str) -> None:
    assert board(worked(TECHNIQUE, text))[-1:] == lines(answer)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (
            "1/sqrt(9-x^2)",
            {
                "factor-of-inverse-tangent-given-to-inverse-sine": "1/3 arcsin(x/3)",
                "root-of-the-number-under-the-root-not-taken": "arcsin(x/9)",
                "inverse-tangent-for-inverse-sine": "1/3 arctan(x/3)",
                "root-integrated-without-its-derivative": "2 sqrt(9 - x^2)",
                "root-divided-by-a-derivative-that-varies": "-sqrt(9 - x^2)/x",
            },
        ),
        (
            "x/sqrt(9-x^2)",
            {
                "two-of-the-root-lost": "-1/2 sqrt(9 - x^2)",
                "half-before-root-lost": "-2 sqrt(9 - x^2)",
                "minus-of-the-derivative-under-root-lost": "sqrt(9 - x^2)",
                "inverse-sine-with-derivative-above": "arcsin(x/3)",
                "numerator-and-root-integrated-apart": "1/2 x^2 arcsin(x/3)",
            },
        ),
        (
            "1/sqrt(x^2+4x+13)",
            {
                "root-integrated-without-its-derivative": "2 sqrt(x^2 + 4x + 13)",
                "root-divided-by-a-derivative-that-varies": "2 sqrt(x^2 + 4x + 13)/(2x + 4)",
                "sign-when-completing-the-square-under-root": "ln(x - 2 + sqrt(x^2 - 4x + 13))",
                "inverse-sine-for-logarithm": "arcsin((x + 2)/3)",
                "sign-of-number-under-root-changed": "ln|x + 2 + sqrt(x^2 + 4x - 5)|",
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
        found |= {slip.slip for slip in TECHNIQUE.wrong_answers(worked(TECHNIQUE, text, letter(text)))}
    assert found == {slip.identifier for slip in TECHNIQUE.slips}


numbers = st.integers(-9, 9).map(Fraction)
halves = st.builds(Fraction, numbers, st.integers(1, 3))


@st.composite
def roots(draw: st.DrawFn) -> Expression:
    """A constant or a line over the root of a quadratic that is no square and real somewhere."""
    some = draw(st.sampled_from([numbers, halves]))
    over = draw(st.lists(some, min_size=1, max_size=2).filter(any))
    c, b, a = (*draw(st.tuples(some, some)), draw(some.filter(bool)))
    discriminant = b * b - 4 * a * c
    assume(discriminant and (a > 0 or discriminant > 0))
    return Quotient(polynomial_tree(tuple(over), X), Root(polynomial_tree((c, b, a), X)))


@settings(max_examples=30)
@given(roots())
def test_always_solved_and_every_slip_wrong(integrand: Expression) -> None:
    solution = TECHNIQUE.work(integrand, X)
    assert solution is not None
    assert_solved(solution)
    wrong_slips(TECHNIQUE, solution)
