"""Proper integrals whose antiderivative jumps, against the closed form of contour integration and mpmath."""

from __future__ import annotations

import pytest

from qbank.techniques.definites.choosing import value_with
from qbank.techniques.definites.jumps import JUMPS
from tests.techniques.definites.evaluating import board, first, integral, mpmath_agrees, worked, wrong_values

#: over a period 1/(p + q cos x) gives 2 pi/sqrt(p^2 - q^2), by residues (common practice)
TABLE = [
    ("1/(2 + cos(x))", "0", "2pi", "2pi/sqrt(3)"),
    ("1/(5 + 4 cos(x))", "0", "2pi", "2pi/3"),
    ("1/(5 + 3 sin(x))", "0", "2pi", "pi/2"),
    ("1/(2 + cos(x))", "0", "pi", "pi/sqrt(3)"),
    ("1/(1 + sin(x)^2)", "0", "pi", "pi/sqrt(2)"),
    ("1/(5 + 3 cos(x))^2", "0", "pi", "5pi/64"),
]


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), TABLE)
def test_value(integrand: str, lower: str, upper: str, value: str) -> None:
    assert mpmath_agrees(worked("jump-split", integrand, lower, upper, value))


def test_the_limits_are_written() -> None:
    rows = board(worked("jump-split", "1/(2 + cos(x))", "0", "2pi", "2pi/sqrt(3)"))
    assert rows[0] == "lim_(b → pi^-) ∫_0^b 1/(2 + cos x) dx + lim_(a → pi^+) ∫_a^(2pi) 1/(2 + cos x) dx"


def test_every_slip_occurs() -> None:
    values = wrong_values(worked("jump-split", "1/(5 + 4 cos(x))", "0", "2pi", "2pi/3"))
    assert {slip.identifier for slip in JUMPS.slips} <= set(values)


@pytest.mark.parametrize(
    ("integrand", "lower", "upper"),
    [
        ("1/(2 + cos(x))", "0", "1"),
        ("1/(1 + x^2)", "0", "1"),
        ("1/(1 + cos(x))", "0", "pi"),
        ("1/x^2", "1", "infinity"),
        ("1/(2 + cos(x))", "0", "20pi"),
    ],
)
def test_declined(integrand: str, lower: str, upper: str) -> None:
    assert value_with("jump-split", integral(integrand, lower, upper)) is None


def test_other_ways_come_first() -> None:
    assert first("1/(2 + cos(x))", "0", "2pi") == "jump-split"
    assert first("1/(2 + cos(x))", "-pi", "pi") == "even-symmetry"
    assert first("1/(2 + cos(x))", "0", "20pi") == "periods"
    assert first("1/(2 + cos(x))", "0", "1") == "limits-changed"
