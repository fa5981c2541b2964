"""Powers of a + b cos below the line, against SymPy's derivative, published answers and the printed formula; slips refuted."""

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

TECHNIQUE = technique("circular-denominator-powers")

#: answers worked by hand, common practice
TABLE = [
    ("1/(5 + 3 cos(x))^2", "-(3 sin x)/(16(5 + 3 cos x)) + 5/32 arctan((tan(x/2))/2)"),
    ("1/(5 + 4 cos(x))^2", "-(4 sin x)/(9(5 + 4 cos x)) + 10/27 arctan((tan(x/2))/3)"),
    ("1/(3 + 5 sin(2x))^2", None),
    ("2/(5 - 3 sin(c + d x))^3", None),
    ("b/(2 + cos(x))^4", None),
    ("cos(x)/(5 + 4 cos(x))^2", None),
    ("cos(x)^2/(2 + cos(x))^2", None),
    ("1/(1 + 2 sec(x))^2", None),
    ("sin(x)^2/(3 + cos(x))^3", None),
    ("(4 + 5 cos(x))/(5 + 4 cos(x))^2", "(sin x)/(5 + 4 cos x)"),
]

DECLINED = [
    "1/(1 + cos(x))^2",
    "1/(5 + 3 cos(x))",
    "1/(5 + 3 cos(x) + sin(x))^2",
    "1/cos(x)^2",
    "1/(a + b cos(x))^2",
    "1/(5 + 3 cos(x))^9",
    "cos(x)^3/(5 + 3 cos(x))^2",
    "x/(5 + 3 cos(x))^2",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=3)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


#: as published: the Rubi test suite, 4.1.1.1 and 4.2.1.1 (Mathematica's answers simplified there; locators of the reference material)
PUBLISHED = [
    (
        "4.2.1.1 (a+b cos)^n, 1/(5 + 3 cos)^2",
        "1/(5 + 3 cos(x))^2",
        "5x/64 - 5/32 arctan(sin(x)/(3 + cos(x))) - 3/16 sin(x)/(5 + 3 cos(x))",
    ),
    (
        "4.1.1.1 (a+b sin)^n, 1/(5 + 3 sin)^2",
        "1/(5 + 3 sin(x))^2",
        "5x/64 + 5/32 arctan(cos(x)/(3 + sin(x))) + 3/16 cos(x)/(5 + 3 sin(x))",
    ),
]


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, by="circular-denominator-powers")


def test_the_working_shows_where_the_formula_comes_from() -> None:
    rows = board(solved(TECHNIQUE, "1/(5 + 3 cos(x))^2"))
    assert rows[1:5] == [
        "∫ (cos x * (5 + 3 cos x) + 3 sin^2 x)/(5 + 3 cos x)^2 dx = (sin x)/(5 + 3 cos x)",
        "cos x * (5 + 3 cos x) + 3 sin^2 x = 5/3 (5 + 3 cos x) - 16/3",
        "-16/3 ∫ 1/(5 + 3 cos x)^2 dx + 5/3 ∫ 1/(5 + 3 cos x) dx = (sin x)/(5 + 3 cos x)",
        "-(3 sin x)/(16(5 + 3 cos x)) + 5/16 ∫ 1/(5 + 3 cos x) dx",
    ]


def test_every_slip_occurs() -> None:
    check_every_slip_occurs(TECHNIQUE, ["1/(5 + 3 sin(2x))^2"])


def test_in_a_sum() -> None:
    check_carried("x + 1/(5 + 3 cos(x))^2", by="term-by-term")


@settings(max_examples=8)
@given(
    p=st.integers(-6, 6).filter(bool),
    q=st.integers(-6, 6).filter(bool),
    power=st.integers(2, 3),
    function=st.sampled_from(["sin", "cos"]),
    slope=st.integers(1, 3),
)
def test_any_numbers(p: int, q: int, power: int, function: str, slope: int) -> None:
    text = f"1/({p} + ({q}) {function}({slope} x))^{power}"
    if p * p == q * q:
        assert TECHNIQUE.work(tree(text), X) is None
        return
    solution = solved(TECHNIQUE, text)
    assert agrees_with_sympy(solution)
    wrong_slips(TECHNIQUE, solution)
