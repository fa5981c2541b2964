"""The sign taken out of a modulus or root, against SymPy's derivative on both sides of 0, and every slip refuted."""

from __future__ import annotations

from fractions import Fraction

import pytest

from qbank.maths.deciding import decide_antiderivative, enclose
from qbank.maths.verdict import Proved, Refuted
from qbank.techniques import solve, technique
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    check_every_slip_occurs,
    solved,
    tree,
    wrong_slips,
)

TECHNIQUE = technique("variable-sign")

#: answers worked by hand, common practice, but for the one that is marked
TABLE = [
    ("abs(x)", "1/2 abs(x) x"),
    ("abs(2x - 1)^3", "1/8 abs(2x - 1) (2x - 1)^3"),
    ("abs(x) e^x", "((abs(x))/x) (x e^x - e^x + 1)"),
    # OpenStax Calculus 2, section 3.3, where x is silently positive: -1/3 (1 - x^2)^(3/2) + 1/5 (1 - x^2)^(5/2)
    ("sqrt(x^6 - x^8)", "((abs(x))/x) (1/5 (1 - x^2)^(5/2) - 1/3 (1 - x^2)^(3/2) + 2/15)"),
    ("sqrt(x^4 - x^2)", "(abs(x) (x^2 - 1)^(3/2))/(3x)"),
    ("5/sqrt(4x^4 - 9x^2)", "5/3 arcsec(2x/3)"),
    ("sqrt(x^4 + x^5)", None),
    ("x/(abs(x) sqrt(x^2 - 1))", None),
    ("sqrt(x^2 + x^4)/x", None),
]

DECLINED = [
    "sqrt(cos(x)^2)",
    "sqrt(tan(x)^2)",
    "sqrt(x^2 (a + x))",
    "x",
    "sqrt(x^3 + x)",
    "sqrt(x)",
    "abs(x) + x",
    "abs(x) abs(x + 1)",
    "abs(a) x",
    "a abs(x)",
    "sin(abs(x))",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_on_both_sides_and_slips_refuted(text: str, expected: str | None) -> None:
    integrand = tree(text)
    solution = TECHNIQUE.work(integrand, X)
    assert solution is not None
    assert isinstance(decide_antiderivative(solution.antiderivative, integrand, X), Proved)
    assert agrees_with_sympy(solution)
    if expected is not None:
        assert board(solution)[-1] == f"{expected} + C"
    assert wrong_slips(TECHNIQUE, solution)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


@pytest.mark.parametrize("text", ["abs(x) e^x", "sqrt(x^6 - x^8)", "sqrt(x^3 + x^2)"])
def test_the_two_sides_meet(text: str) -> None:
    """An antiderivative has no jump where the integrand is continuous."""
    solution = TECHNIQUE.work(tree(text), X)
    assert solution is not None
    for side in (1, -1):
        value = enclose(solution.antiderivative, at={X: Fraction(side, 10**6)})
        assert value is not None
        assert abs(value.upper) < Fraction(1, 10**5)


def test_what_holds_for_positive_values_only_is_refuted() -> None:
    """The root of x^2 is not x: the modulus that a student forgets."""
    wrong = tree("1/5 (1 - x^2)^(5/2) - 1/3 (1 - x^2)^(3/2)")
    assert isinstance(decide_antiderivative(wrong, tree("sqrt(x^6 - x^8)"), X), Refuted)


def test_a_square_as_a_factor_below_the_root() -> None:
    assert agrees_with_sympy(solved(TECHNIQUE, "sqrt((x + 1)^2 x)"))


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "sqrt(x^4 - x^2)"))[1:] == [
        "∫ abs(x) sqrt(x^2 - 1) dx",
        "((abs(x))/x) ∫ x sqrt(x^2 - 1) dx",
        "u = x^2 - 1; du = 2x dx",
        "((abs(x))/(2x)) ∫ sqrt(u) du",
        "((abs(x))/(2x)) ∫ u^(1/2) du",
        "(abs(x) u^(3/2))/(3x) + C",
        "(abs(x) (x^2 - 1)^(3/2))/(3x) + C",
    ]


def test_inverse_secants_go_by_parts() -> None:
    """OpenStax Calculus 2, section 3.1, has x arcsec x for x > 1; here both parts of the domain count."""
    for text in ("arcsec(x)", "x arcsec(x)", "x^2 arcsec(x)", "arccosec(2x)", "arcsec(x)/x^2"):
        solution = solve(tree(text), X)
        assert solution is not None
        assert solution.technique == "by-parts"
        assert agrees_with_sympy(solution)


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
