"""Powers with the variable in base and exponent, beside the derivative of the exponent as an exponential."""

from __future__ import annotations

import pytest

from qbank.techniques.planner import solve
from qbank.techniques.substituting.variable_powers import TECHNIQUE
from tests.techniques.solving import X, board, check_every_slip_occurs, check_solved, solved, tree

#: integrand and the answer as a teacher writes it; read by hand
TABLE = [
    ("x^x (1 + ln(x))", "x^x"),
    ("3 x^(2x) (1 + ln(x))", "3/2 x^(2x)"),
    ("x^(1/x) (1 - ln(x))/x^2", "x^(1/x)"),
    ("sin(x)^x (ln(sin(x)) + x cot(x))", "(sin x)^x"),
    ("x^(sin(x)) (cos(x) ln(x) + sin(x)/x)", "x^(sin x)"),
    ("x^(x^2) (x + 2x ln(x))", "x^(x^2)"),
    ("x^(ln(x)) ln(x)/x", "1/2 x^(ln x)"),
    ("a x^x (ln(x) + 1)", "a x^x"),
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str) -> None:
    """SymPy differentiates the answer; each slip is refuted."""
    assert check_solved(TECHNIQUE, text, expected, slips=2) == solve(tree(text), X)


@pytest.mark.parametrize(
    "text",
    [
        "x^x",
        "x^x (2 + ln(x))",
        "2^x (1 + ln(x))",
        "x^n (1 + ln(x))",
        "x^x ln(x)",
        "x^(1/ln(x))",
        "x x^(2/ln(x))",
    ],
)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_board() -> None:
    """As a teacher writes it; read by hand."""
    assert board(solved(TECHNIQUE, "x^(1/x) (1 - ln(x))/x^2")) == [
        "∫ (x^(1/x) (1 - ln x))/x^2 dx",
        "x^(1/x) = e^((ln x)/x)",
        "∫ (e^((ln x)/x) (1 - ln x))/x^2 dx",
        "u = (ln x)/x; du = ((1 - ln x)/x^2) dx",
        "∫ e^u du",
        "e^u + C",
        "x^(1/x) + C",
    ]


def test_every_slip_occurs() -> None:
    check_every_slip_occurs(TECHNIQUE, ["x^x (1 + ln(x))", "3 x^(2x) (1 + ln(x))"])
