"""An exponential beside a function and its derivative: found, worked by parts with two integrals that cancel, slips refuted."""

from __future__ import annotations

from fractions import Fraction

import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.exponential_fraction import factor_beside
from qbank.maths.letter_fraction import LetterFraction, fraction_of
from qbank.techniques.parts.exponential_product import TECHNIQUE
from tests.techniques.solving import (
    X,
    board,
    check_every_slip_occurs,
    check_published,
    check_solved,
    solved,
    tree,
)

#: integrand and the answer as a teacher writes it; read by hand
TABLE = [
    ("x e^x/(1 + x)^2", "e^x/(x + 1)"),
    ("e^x (1/x - 1/x^2)", "e^x/x"),
    ("e^x (x - 1)/(x + 1)^3", "e^x/(x + 1)^2"),
    ("e^x (x^2 + 1)/(x + 1)^2", "((x - 1) e^x)/(x + 1)"),
    ("e^x (1 - x)^2/(1 + x^2)^2", "e^x/(x^2 + 1)"),
    ("e^x (sin(x) + cos(x))", "e^x sin x"),
    ("e^x (tan(x) + sec(x)^2)", "e^x tan x"),
    ("e^x sec(x) (1 + tan(x))", "e^x sec x"),
    ("3 e^x (1 + sin(x))/(1 + cos(x))", "(3e^x sin x)/(1 + cos x)"),
    ("e^x (1 - cot(x) + cot(x)^2)", "-e^x cot x"),
    ("e^(2x) (1 + sin(2x))/(1 + cos(2x))", "(e^(2x) sin 2x)/(2(1 + cos 2x))"),
    ("e^(2x) (2 ln(x) + 1/x)", "e^(2x) ln x"),
    ("(x + 1)/(x^2 e^x)", "-e^(-x)/x"),
    ("e^(-x) (cos(x) - sin(x))", "e^(-x) sin x"),
    ("e^x (x ln(x) + ln(x) + 1)", "x e^x ln x"),
    ("e^x (arctan(x) + 1/(1 + x^2))", "e^x arctan x"),
    ("e^(a x) (a tan(x) + sec(x)^2)", "e^(a x) tan x"),
    # a fraction has to be added to the function
    ("e^x (ln(x) + 1/x^2)", "e^x * (ln x - 1/x)"),
    ("e^x (arctan(x) + 2x/(1 + x^2)^2)", "e^x * (arctan x - 1/(x^2 + 1))"),
    ("e^(2x) (2 ln(x) + 3/x - 1/x^2)", "e^(2x) (ln x + 1/x)"),
    # each term has the exponential
    ("e^x/x + e^x ln(x)", "e^x ln x"),
    ("e^x sin(x) + e^x cos(x)", "e^x sin x"),
    ("3 e^(2x)/x + 6 e^(2x) ln(x)", "3e^(2x) ln x"),
]

DECLINED = [
    "e^x/x",
    "e^x (1/x + 1/x^2)",
    "e^x/(x + 1)^2",
    "e^x (sin(x) + 2 cos(x))",
    "e^x sin(x)",
    "e^x (x^2 + 2x)",
    "e^x (e^x + 1)",
    "sin(x) + cos(x)",
    "2^x (ln(x) + 1/x)",
    "e^(x^2) (ln(x) + 1/x)",
    "e^x/x + e^(2x) ln(x)",
    "e^x/x + ln(x)",
    "e^x (ln(x) + 2/x^2)",
    "e^x ln(x)",
]

#: MIT Integration Bee (2014, 2017 and 2018 qualifiers) and the independent test suites of the Rubi project, as in the files
#: beside the checkout
PUBLISHED = [
    ("TAB0249", "e^x (ln(1 + x^2) - 2 (1 + x) arctan(x))", "e^x (ln(1 + x^2) - 2 x arctan(x))"),
    ("TAB0283", "(2 + x) e^(-x)/x^3", "-e^(-x)/x^2"),
    ("TAB0294", "e^x (1/x + ln(x))", "e^x ln(x)"),
    ("RUBI00486", "e^x x/(1 + x)^2", "e^x/(1 + x)"),
    ("RUBI00970", "e^x (1 - x - x^2)/sqrt(1 - x^2)", "e^x sqrt(1 - x^2)"),
    ("RUBI00974", "e^x (1 - sin(x))/(1 - cos(x))", "-e^x sin(x)/(1 - cos(x))"),
    ("RUBI00975", "e^x (1 + sin(x))/(1 + cos(x))", "e^x sin(x)/(1 + cos(x))"),
    ("RUBI00976", "e^x (1 + cos(x))/(1 - sin(x))", "e^x cos(x)/(1 - sin(x))"),
    ("RUBI01001", "e^x (1 + sinh(x))/(1 + cosh(x))", "e^x + 2/(1 + e^x)"),
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str) -> None:
    check_solved(TECHNIQUE, text, expected, slips=2)


@pytest.mark.parametrize("text", DECLINED)
def test_other_kinds_are_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, by="exponential-product")


def test_board() -> None:
    """As a teacher writes it; read by hand."""
    assert board(solved(TECHNIQUE, "x e^x/(1 + x)^2")) == [
        "∫ (x e^x)/(1 + x)^2 dx",
        "∫ e^x * (1/(x + 1) - 1/(x + 1)^2) dx",
        "∫ e^x/(x + 1) dx - ∫ e^x/(x + 1)^2 dx",
        "u = 1/(x + 1); du = -(1/(x + 1)^2) dx",
        "v = e^x; dv = e^x * dx",
        "e^x/(x + 1) + ∫ e^x/(x + 1)^2 dx - ∫ e^x/(x + 1)^2 dx",
        "e^x/(x + 1) + C",
    ]


def test_every_slip_occurs() -> None:
    check_every_slip_occurs(
        TECHNIQUE, ["e^(2x) (2 tan(x) + sec(x)^2)", "e^x (1/x - 1/x^2)", "e^x (sin(x) + cos(x))"]
    )


@given(
    above=st.lists(st.integers(-4, 4), min_size=1, max_size=4).filter(any),
    roots=st.lists(st.integers(-3, 3), min_size=1, max_size=3),
    rate=st.sampled_from([Fraction(1), Fraction(-1), Fraction(2), Fraction(-1, 2)]),
)
@settings(max_examples=60)
def test_any_fraction_is_found_again(above: list[int], roots: list[int], rate: Fraction) -> None:
    """SymPy makes k f + f' of an f, and it is found again: there is only one."""
    x = sympy.Symbol("x")
    f = sympy.Poly(above, x).as_expr() / sympy.prod([x - root for root in roots])
    given_f, whole = (_fraction(tree, x) for tree in (f, sympy.Rational(rate) * f + sympy.diff(f, x)))
    assert factor_beside(whole, rate) == given_f


def _fraction(tree: sympy.Expr, x: sympy.Symbol) -> LetterFraction:
    over, under = (
        tuple(Fraction(int(c.p), int(c.q)) for c in reversed(sympy.Poly(part, x, domain="QQ").all_coeffs()))
        for part in sympy.fraction(sympy.cancel(tree))
    )
    return fraction_of(over, under)
