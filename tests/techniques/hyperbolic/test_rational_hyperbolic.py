"""Fractions of hyperbolic functions, against SymPy's derivative and published answers; every slip refuted."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.techniques import technique
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

TECHNIQUE = technique("rational-hyperbolic")

#: answers worked by hand, common practice
TABLE = [
    ("1/(1 + cosh(x))", "-2/(e^x + 1)"),
    ("3/(1 + tanh(2x))", "3/2 x - 3/(8e^(4x))"),
    ("sinh(x)^3/(1 + cosh(x))^2", "cosh x - 2 ln(cosh x + 1)"),
    ("cosh(2x)^3/(4 + sinh(2x)^2)", None),
    ("1/(3 + cosh(x)^2)", None),
    ("sinh(x)^2/(1 + cosh(x))", "sinh x - x"),
    ("5/(3 + 5 sinh(2x + 1))", None),
    ("e^x/(1 - cosh(x))", "-2 ln|e^x - 1| + 2/(e^x - 1)"),
    ("e^x cosech(2x)", None),
    ("e^(a + b x) cosech(a + b x)", None),
    ("cosh(x)/sinh(3x)", None),
    ("sinh(x)/(cosh(x) - sinh(x))", "1/4 e^(2x) - 1/2 x"),
    ("1/(a + a sech(x))", None),
    ("1/(coth(x) + cosech(x))", "ln(cosh x + 1)"),
    ("sech(x)^3", "1/2 arctan(sinh x) + (sinh x)/(2(sinh^2 x + 1))"),
    ("cosech(2x)^3", None),
    ("tanh(x)^2 sech(x)", None),
    ("tanh(x)/(2a + b tanh(x))", "-x/(2a - b) + (2a ln|(2a + b) e^(2x) + 2a - b|)/((2a - b) (2a + b))"),
    ("sech(x)/(a + b sinh(x))", None),
]

DECLINED = [
    "sinh(x)^2",
    "e^x sinh(x)",
    "1/(1 + e^x)",
    "1/(1 + cos(x))",
    "x/(1 + cosh(x))",
    "1/(a + x cosh(x))",
]
DECLINED_TOO = [
    "sqrt(1 + cosh(x))",
    "1/(1 + cosh(x^2))",
    "e^(x^2)/cosh(x)",
    "1/(1 + cosh(x)) + 1",
    "2^x/cosh(x)",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=0 if expected == "sinh x - x" else 1)


@pytest.mark.parametrize("text", [*DECLINED, *DECLINED_TOO])
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


#: as published: MIT Integration Bee sheets and the Rubi test suite (TAB and RUBI numbers of the reference material)
PUBLISHED = [
    ("TAB0320", "sinh(x)/(cosh(x) - sinh(x))", "-x/2 + e^(2x)/4"),
    ("RUBI00996", "e^(2x)/sinh(x)^4", "8/3 e^(6x)/(1 - e^(2x))^3"),
    ("RUBI01000", "e^x/(1 - cosh(x))", "-2/(1 - e^x) - 2 ln(abs(1 - e^x))"),
    ("RUBI03587", "sech(x)^3", "1/2 arctan(sinh(x)) + 1/2 sech(x) tanh(x)"),
    ("RUBI03671", "1/(coth(x) + cosech(x))", "ln(1 + cosh(x))"),
    ("RUBI03674", "1/(cosh(x)^2 - sinh(x)^2)", "x"),
]


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published_answers(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, TECHNIQUE.identifier)


def test_the_board_with_an_exponential() -> None:
    assert board(solved(TECHNIQUE, "6/(1 + cosh(2x))")) == [
        "∫ 6/(1 + cosh 2x) dx",
        "u = e^(2x); cosh 2x = (u^2 + 1)/(2u); dx = (1/(2u)) du",
        "6 ∫ (1/(1 + (u^2 + 1)/(2u))) * (1/(2u)) du",
        "6 ∫ 1/(u^2 + 2u + 1) du",
        "u^2 + 2u + 1 = (u + 1)^2",
        "6 ∫ 1/(u + 1)^2 du",
        "-6/(u + 1) + C",
        "-6/(e^(2x) + 1) + C",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


def test_the_lines_are_carried_into_others() -> None:
    check_carried("x/(1 + cosh(x^2))", "substitution-first")
    check_carried("1/(1 + tanh(x)) + x e^x", "term-by-term")


@settings(max_examples=10)
@given(
    a=st.integers(1, 5),
    b=st.integers(-4, 4).filter(bool),
    n=st.integers(0, 3),
    form=st.sampled_from(
        (
            "sinh(2x)^{n}/({a} + {b} cosh(2x))",
            "cosh(x)^{n}/({a} + {b} sinh(x))",
            "{a}/({a} + {b} tanh(1 - x))",
            "e^({n}x)/({a} cosh(x) + {b} sinh(x))",
            "{a}/({b} - cosh(x/2)^2)",
        )
    ),
)
def test_every_answer_is_right_and_every_slip_wrong(a: int, b: int, n: int, form: str) -> None:
    solution = TECHNIQUE.work(tree(form.format(a=a, b=f"({b})", n=n)), X)
    if solution is not None:
        assert agrees_with_sympy(solution)
        wrong_slips(TECHNIQUE, solution)
