"""Hyperbolic functions by exponentials, against SymPy's derivative and published answers; every slip refuted."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.notation import plain
from qbank.techniques import solve_all, technique
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    check_carried,
    check_every_slip_occurs,
    check_published,
    check_solved,
    solved,
    tree,
    wrong_slips,
)

TECHNIQUE = technique("hyperbolic-exponentials")

#: answers worked by hand, common practice
TABLE = [
    ("e^(2x) sinh(3x)", "1/10 e^(5x) + 1/2 e^(-x)"),
    ("e^(2x) sinh(2x)", "1/8 e^(4x) - 1/2 x"),
    ("3 e^(-x) cosh(x)^2", "3/4 e^x - 3/2 e^(-x) - 1/4 e^(-3x)"),
    ("sinh(2x) cosh(3x)", "1/10 cosh 5x - 1/2 cosh x"),
    ("cosh(x) cosh(3x)", "1/8 sinh 4x + 1/4 sinh 2x"),
    ("sinh(5x) sinh(3x)", "1/16 sinh 8x - 1/4 sinh 2x"),
    ("sinh(3x) cosh(2x)", "1/10 cosh 5x + 1/2 cosh x"),
    ("5 sinh(2x) sinh(x)^2", "5/16 cosh 4x - 5/4 cosh 2x"),
    ("sinh(x + 1) cosh(x)", None),
    ("sinh(x)^2", "1/4 sinh 2x - 1/2 x"),
    ("sinh(x) cosh(-x)", None),
    ("sinh(x)/e^(4x)", None),
    ("exp(x/2) cosh(x/3)", None),
    ("a e^(b x) sinh(3 b x)^2", None),
    ("e^(1 - x) sinh(x)^3", None),
]

DECLINED = ["sinh(x)", "e^x e^(2x)", "e^x tanh(x)", "e^x/sinh(x)", "sinh(a x) cosh(b x)", "e^(x^2) sinh(x)"]
DECLINED_TOO = ["sinh(x)^7", "sinh(x) sin(x)", "2^x sinh(x)", "x sinh(x) cosh(2x)", "e^(9x/e^x) sinh(x)"]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=3)


@pytest.mark.parametrize("text", [*DECLINED, *DECLINED_TOO])
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


#: as published in the Rubi test suite (numbers of the reference material)
PUBLISHED = [
    ("RUBI03397", "e^x sinh(2x)^2", "-1/12 e^(-3x) - 1/2 e^x + 1/20 e^(5x)"),
    ("RUBI03398", "e^x sinh(2x)", "1/2 e^(-x) + 1/6 e^(3x)"),
    ("RUBI03405", "e^x sinh(4x)", "1/6 e^(-3x) + 1/10 e^(5x)"),
    ("RUBI03663", "sinh(x) sinh(2x)", "2/3 sinh(x)^3"),
    ("RUBI03665", "cosh(x) sinh(2x)", "2/3 cosh(x)^3"),
    ("RUBI03666", "cosh(x) cosh(3x)", "1/4 sinh(2x) + 1/8 sinh(4x)"),
    ("RUBI03683", "e^(2(a + b x)) sinh(a + b x)^2", "-e^(2a + 2b x)/(4b) + e^(4a + 4b x)/(16b) + x/4"),
]


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published_answers(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer)


def test_the_board_of_a_product() -> None:
    assert board(solved(TECHNIQUE, "4 sinh(2x) cosh(3x)")) == [
        "∫ 4 sinh 2x cosh 3x dx",
        "4 ∫ ((e^(2x) - e^(-2x))/2) * ((e^(3x) + e^(-3x))/2) dx",
        "∫ (e^(5x) - e^x + e^(-x) - e^(-5x)) dx",
        "2 ∫ (sinh 5x - sinh x) dx",
        "2/5 cosh 5x - 2 cosh x + C",
    ]


def test_another_way_for_a_square() -> None:
    ways = [solution.technique for solution in solve_all(tree("cosh(x)^2"), X)]
    assert ways[:2] == ["hyperbolic-powers", "hyperbolic-exponentials"]


def test_the_slips_of_a_product() -> None:
    """What students write for e^(2x) sinh 3x, each from one wrong line run to the end (common practice)."""
    found = wrong_slips(TECHNIQUE, solved(TECHNIQUE, "e^(2x) sinh(3x)"))
    assert {name.removeprefix("exponentials-"): plain(answer) for name, answer in found.items()} == {
        "factors-integrated-separately": "1/6 e^(2x) cosh 3x",
        "minus-of-sinh-lost": "1/10 e^(5x) - 1/2 e^(-x)",
        "half-lost": "1/5 e^(5x) + e^(-x)",
        "sign-of-falling-lost": "1/10 e^(5x) - 1/2 e^(-x)",
        "inner-coefficient-forgotten": "1/2 e^(5x) + 1/2 e^(-x)",
        "inner-coefficient-multiplied": "5/2 e^(5x) + 1/2 e^(-x)",
        "exponents-multiplied": "1/12 e^(6x) + 1/12 e^(-6x)",
        "differentiated-instead": "2e^(2x) sinh 3x + 3e^(2x) cosh 3x",
    }


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


def test_the_lines_are_carried_into_others() -> None:
    check_carried("e^x sinh(2x) + x e^x", "term-by-term")
    check_carried("x e^x sinh(x)", "by-parts")


@settings(max_examples=20)
@given(
    k=st.integers(-3, 3),
    a=st.integers(-4, 5).filter(bool),
    b=st.integers(-4, 5).filter(bool),
    m=st.integers(1, 2),
    n=st.integers(0, 2),
    functions=st.sampled_from((("sinh", "cosh"), ("cosh", "cosh"), ("sinh", "sinh"), ("cosh", "sinh"))),
)
def test_every_answer_is_right_and_every_slip_wrong(
    k: int, a: int, b: int, m: int, n: int, functions: tuple[str, str]
) -> None:
    first, second = functions
    text = f"e^({k}x) {first}({a}x + 1)^{m} * {second}({b}x)^{n}" if k else f"{first}({a}x)^2 {second}({b}x)"
    solution = TECHNIQUE.work(tree(text), X)
    assert solution is not None, text
    assert agrees_with_sympy(solution)
    wrong_slips(TECHNIQUE, solution)
