"""The sine of twice an angle beside functions of the angle, against SymPy's derivative, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import technique
from tests.techniques.solving import X, board, check_every_slip_occurs, check_solved, solved, tree

TECHNIQUE = technique("double-angle-first")

#: answers worked by hand, common practice
TABLE = [
    ("e^(sin(x)) sin(2x)", "2(sin x) e^(sin x) - 2e^(sin x)"),
    ("sin(2x)/sqrt(9 - cos(x)^4)", "-arcsin((cos^2 x)/3)"),
    ("sin(2x) arctan(sin(x))", None),
    ("sin(4x + 2) ln(cos(2x + 1))", None),
    ("sin(2x) e^(sin(x)^2)", None),
    ("3 sin(2x) sqrt(1 + sin(x))", None),
]

DECLINED = ["sin(2x)", "e^(sin(x)) sin(3x)", "e^(sin(x)) cos(2x)", "e^x sin(2x)", "sin(2x) sin(x^2)"]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "e^(sin(x)) sin(2x)"))[1:4] == [
        "sin 2x = 2 sin x cos x",
        "∫ 2e^(sin x) sin x cos x dx",
        "u = sin x; du = cos x dx",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
