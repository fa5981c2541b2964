"""Polynomials over fourth powers, against SymPy's derivative, published answers and values, and every slip refuted."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.expression import INFINITY, Integral, rational
from qbank.maths.notation import plain
from qbank.techniques import solve
from qbank.techniques.definites.choosing import value_of
from qbank.techniques.fractions.biquadratic import TECHNIQUE
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    check_every_slip_occurs,
    check_published,
    check_solved,
    solved,
    tree,
    wrong_slips,
)

TABLE = [
    (
        "1/(1 + x^4)",
        "(1/(2 sqrt(2))) arctan(sqrt(2) x - 1) + (1/(2 sqrt(2))) arctan(sqrt(2) x + 1) + (1/(4 sqrt(2))) ln((x^2 + sqrt(2) x + 1)/(x^2 - sqrt(2) x + 1))",
    ),
    ("(x^2 + 1)/(x^4 + 1)", "(1/sqrt(2)) arctan(sqrt(2) x - 1) + (1/sqrt(2)) arctan(sqrt(2) x + 1)"),
    ("(x^2 - 1)/(x^4 + 1)", "(1/(2 sqrt(2))) ln((x^2 - sqrt(2) x + 1)/(x^2 + sqrt(2) x + 1))"),
    ("(x^2 + 3)/(x^4 + 9)", "(1/sqrt(6)) arctan((2x - sqrt(6))/sqrt(6)) + (1/sqrt(6)) arctan((2x + sqrt(6))/sqrt(6))"),
    ("(4x^2 + 4)/(2 - 2x^2 + 2x^4)", "2 arctan(2x - sqrt(3)) + 2 arctan(2x + sqrt(3))"),
    ("(x^2 + 1)/(x^4 + 3x^2 + 1)", "(1/sqrt(5)) arctan(2x/(sqrt(5) + 1)) + (1/sqrt(5)) arctan(2x/(sqrt(5) - 1))"),
    ("(x^2 + 1)/(x^4 - 4x^2 + 1)", "(1/(2 sqrt(2))) ln|(x^2 - sqrt(2) x - 1)/(x^2 + sqrt(2) x - 1)|"),
    ("x^2/(9x^4 + 1)", None),
    ("-5/(x^4 + 16)", None),
    ("x^6/(x^4 + 1)", None),
    ("(x^3 + x + 2)/(x^4 + 9)", None),
    ("(1 + x + x^2 + x^3)/(x^4 + 1)", None),
    ("(x + 2)/(x^4 + 4x^2 + 1)", None),
    ("1/(3x^4 + x^2 + 3)", None),
    ("x^2/((x^2 + 1)^2 - 5x^2)", None),
]  # fmt: skip

#: a rational factorisation of the squares, other powers, a number that is no square, a multiple of an odd power alone
DECLINED = [
    "1/(x^4 + 3x^2 + 2)",
    "1/(x^4 - 1)",
    "1/(x^4 + 2x^2 + 1)",
    "1/(x^4 + x + 1)",
    "1/(x^4 + 2)",
    "1/(x^4 - 4)",
    "x/(x^4 + 1)",
    "1/(x^2 + 1)",
    "1/(a x^4 + 1)",
    "sin(x)/(x^4 + 1)",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=2)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


@pytest.mark.parametrize(
    ("number", "integrand", "answer"),
    [
        # as published: the Rubi test suite, 0 (Bondarenko, Hearn) and 1.2.2.3
        ("RUBI01651", "(1 - x^2)/(1 - x^2 + x^4)", "-ln(1 + x^2 - x sqrt(3))/(2 sqrt(3)) + ln(1 + x^2 + x sqrt(3))/(2 sqrt(3))"),
        ("RUBI01645", "(1 + x^2)/(1 + 4x^2 + x^4)", "arctan(x/sqrt(2 - sqrt(3)))/sqrt(6) + arctan(x/sqrt(2 + sqrt(3)))/sqrt(6)"),
    ],
)  # fmt: skip
def test_published(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, by=TECHNIQUE.identifier)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        # Gradshteyn and Ryzhik 3.241.2 with the powers 1 and 3 of 4: pi/(4 sin(pi/4)), from memory
        ("1/(x^4 + 1)", "(sqrt(2) pi)/4"),
        ("x^2/(x^4 + 1)", "(sqrt(2) pi)/4"),
    ],
)
def test_values_over_the_half_line(text: str, value: str) -> None:
    """No jump at 0, so that the whole line is twice as much."""
    half = value_of(Integral(tree(text), X, rational(0), INFINITY))
    assert half is not None
    assert plain(half.value) == value


def test_one_substitution_where_it_holds_everywhere() -> None:
    assert board(solved(TECHNIQUE, "(x^2 - 1)/(x^4 + 1)"))[1:7] == [
        "∫ (1 - 1/x^2)/(x^2 + 1/x^2) dx",
        "u = x + 1/x; du = (1 - 1/x^2) dx",
        "x^2 + 1/x^2 = u^2 - 2",
        "∫ 1/(u^2 - 2) du",
        "(1/(2 sqrt(2))) ln|(u - sqrt(2))/(u + sqrt(2))| + C",
        "(1/(2 sqrt(2))) ln((x^2 - sqrt(2) x + 1)/(x^2 + sqrt(2) x + 1)) + C",
    ]


def test_factors_where_a_substitution_would_jump() -> None:
    lines = board(solved(TECHNIQUE, "(x^2 + 1)/(x^4 + 1)"))
    assert lines[1].startswith("x^4 + 1 = (x^2 + 1)^2 - (sqrt(2) x)^2;")
    assert "∫ (1/2)" not in lines[3]
    assert not any("u" in line.split() for line in lines)


def test_the_shorter_way_first() -> None:
    """The substitution is taken where the factors are rational too; else those are."""
    for text, first in (
        ("(x^2 - 1)/(x^4 + x^2 + 1)", TECHNIQUE.identifier),
        ("(x^2 + 1)/(x^4 + x^2 + 1)", "partial-fractions"),
        ("x^3/(x^4 + 1)", "substitution"),
    ):
        solution = solve(tree(text), X)
        assert solution is not None
        assert solution.technique == first


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


@settings(max_examples=15)
@given(
    p=st.integers(-5, 5),
    q=st.integers(-5, 5),
    odd=st.integers(-2, 2),
    b=st.integers(-9, 9),
    k=st.integers(1, 4),
)
def test_always_solved(p: int, q: int, odd: int, b: int, k: int) -> None:
    text = f"({p}*x^2 + ({q}) + {odd}*x)/(x^4 + ({b})*x^2 + {k * k})"
    solution = TECHNIQUE.work(tree(text), X)
    if solution is not None:
        assert agrees_with_sympy(solution)
        wrong_slips(TECHNIQUE, solution)
    else:
        # rational squares of the roots, or nothing above but an odd power
        squares = b * b - 4 * k * k
        assert (squares >= 0 and round(squares**0.5) ** 2 == squares) or not (p or q)
