"""The angle as the new letter, against published integrals, SymPy's derivative, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.maths.deciding import decide_same_up_to_constant
from qbank.maths.verdict import Proved
from qbank.techniques import solve, technique
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    check_every_slip_occurs,
    check_solved,
    solved,
    tree,
)

TECHNIQUE = technique("inverse-substitution")

#: answers worked by hand, common practice
TABLE = [
    ("e^(arcsin(x))", "1/2 (sqrt(1 - x^2) + x) e^(arcsin x)"),
    ("x^2 arcsin(x)/sqrt(1 - x^2)", "1/4 (arcsin x)^2 - 1/2 x sqrt(1 - x^2) arcsin x + 1/4 x^2"),
    ("arctan(x)/(1 + x^2)^(3/2)", "(x arctan x)/sqrt(x^2 + 1) + 1/sqrt(x^2 + 1)"),
    ("x^2 arctan(x)/(1 + x^2)", "x arctan x - 1/2 (arctan x)^2 - 1/2 ln(x^2 + 1)"),
    ("x (arctan(x))^2", "1/2 x^2 (arctan x)^2 - x arctan x + 1/2 (arctan x)^2 + 1/2 ln(x^2 + 1)"),
    ("e^(arcsec(x))/x^2", "1/2 (sqrt(x^2 - 1)/(abs(x)) - 1/x) e^(arcsec x)"),
    ("x e^(arcsin(2x))", None),
    ("e^(arccos((x + 1)/2))", None),
    ("x^3 arcsin(x)/sqrt(1 - x^2)", None),
    ("e^(arccot(x))/(1 + x^2)^2", None),
    ("arctan(3x)/(4 + 36x^2)^2", None),
    ("x arccos(x)^2", None),
    ("x arctan(a + b x)", None),
    ("x^4 arcsin(a x)", None),
]

#: the suite of integration rules by A. Rich, section 5 (inverse circular functions), each with its published answer
PUBLISHED = [
    ("e^(arccot(x))/(a + a x^2)^2", "-2e^(arccot(x))/(5a^2) - e^(arccot(x)) (1 - 2x)/(5a^2 (1 + x^2))"),
    (
        "e^(2 arctan(a x))/(c + a^2 c x^2)^2",
        "e^(2 arctan(a x))/(8a c^2) + e^(2 arctan(a x)) (1 + a x)/(4a c^2 (1 + a^2 x^2))",
    ),
]

DECLINED = [
    "x^2 + arctan(x)",
    "arctan(x^2)",
    "arctan(x) arcsin(x)",
    "arcsec(x)/sqrt(x^2 - 1)",
    "arcsin(x)/sqrt(1 + x^2)",
    "arctan(x) ln(x)",
    "arctan(a)",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1)


@pytest.mark.parametrize(("text", "published"), PUBLISHED)
def test_published(text: str, published: str) -> None:
    solution = solve(tree(text), X)
    assert solution is not None
    assert isinstance(decide_same_up_to_constant(solution.antiderivative, tree(published), X), Proved)


def test_both_sides_of_an_inverse_cosecant() -> None:
    solution = solved(TECHNIQUE, "e^(arccosec(2x))/x^3")
    assert agrees_with_sympy(solution)
    assert "cos t = sqrt(4x^2 - 1)/(abs(2x))" in board(solution)[-2]


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "x e^(arcsin(x))/sqrt(1 - x^2)")) == [
        "∫ (x e^(arcsin x))/sqrt(1 - x^2) dx",
        "t = arcsin x; x = sin t; dx = cos t dt; sqrt(1 - x^2) = cos t",
        "∫ e^t sin t dt",
        "u = sin t; du = cos t dt",
        "v = e^t; dv = e^t * dt",
        "e^t sin t - ∫ e^t cos t dt",
        "u = cos t; du = -sin t dt",
        "v = e^t; dv = e^t * dt",
        "e^t sin t - e^t cos t - ∫ e^t sin t dt",
        "2 ∫ e^t sin t dt = e^t sin t - e^t cos t",
        "1/2 e^t * (sin t - cos t) + C",
        "sin t = x; cos t = sqrt(1 - x^2)",
        "1/2 (x - sqrt(1 - x^2)) e^(arcsin x) + C",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
