"""Powers of sine and cosine beside a polynomial or an exponential, against SymPy's derivative, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import technique
from tests.techniques.solving import X, board, check_every_slip_occurs, check_solved, solved, tree

TECHNIQUE = technique("multiple-angles")

#: answers worked by hand, common practice
TABLE = [
    ("e^x sin(x)^2", "1/2 e^x - 1/10 e^x * (cos 2x + 2 sin 2x)"),
    ("e^x sin(x) cos(x)", "1/10 e^x * (sin 2x - 2 cos 2x)"),
    ("x^2 sin(x) cos(x)", "-1/4 x^2 cos 2x + 1/8 cos 2x + 1/4 x sin 2x"),
    ("x sin(x)^3", None),
    ("e^(-2x) cos(3x)^2", None),
    ("x^2 sin(x) cos(2x)", None),
    ("5 e^x sin(3x) cos(5x)", None),
    ("e^(k x) cos(x)^2", "e^(k x)/(2k) + (e^(k x) (k cos 2x + 2 sin 2x))/(2(k^2 + 4))"),
]

DECLINED = [
    "sin(x)^2",
    "x sin(x)",
    "e^x sin(x)",
    "sqrt(x) sin(x)^2",
    "e^(x^2) sin(x)^2",
    "sin(x)^2/x",
    "x sin(x^2)^2",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "e^x sin(x)^2"))[1:4] == [
        "sin^2 x = 1/2 - 1/2 cos 2x",
        "∫ (1/2 e^x - 1/2 e^x cos 2x) dx",
        "1/2 ∫ e^x dx - 1/2 ∫ e^x cos 2x dx",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
