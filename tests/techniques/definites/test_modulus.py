"""Moduli split at their zeros: values by hand and by mpmath, the lines of one, slips."""

from __future__ import annotations

import pytest

from qbank.techniques.definites.choosing import value_with
from tests.techniques.definites.evaluating import board, integral, mpmath_agrees, worked, wrong_values

TABLE = (
    ("abs(x-2)", "0", "3", "5/2", (2.0,)),
    ("abs(x^2-4)", "0", "3", "23/3", (2.0,)),
    ("abs(x^3-x)", "-1", "2", "11/4", (0.0, 1.0)),
    ("abs(1+2sin(x))", "0", "2pi", "2pi/3 + 4sqrt(3)", (3.66519142918809, 5.75958653158129)),
    ("x abs(x)", "-1", "2", "7/3", (0.0,)),
    ("abs(x) + abs(x-1)", "-1", "2", "5", (0.0, 1.0)),
    ("e^abs(x)", "-1", "3", "e + e^3 - 2", (0.0,)),
    ("abs(ln(x))", "1/2", "2", "3/2 ln(2) - 1/2", (1.0,)),
    ("abs(x^2-2)", "0", "2", "8 sqrt(2)/3 - 4/3", (1.4142135623731,)),
)


@pytest.mark.parametrize(("integrand", "lower", "upper", "value", "zeros"), TABLE)
def test_value(integrand: str, lower: str, upper: str, value: str, zeros: tuple[float, ...]) -> None:
    found = value_with("absolute-value", integral(integrand, lower, upper))
    assert found is not None
    assert mpmath_agrees(found, *zeros)
    worked("absolute-value", integrand, lower, upper, value)


def test_lines() -> None:
    found = worked("absolute-value", "abs(x-2)", "0", "3", "5/2")
    assert board(found)[:2] == [
        "∫_0^2 (2 - x) dx + ∫_2^3 (x - 2) dx",
        "[2x - 1/2 x^2]_0^2 + [1/2 x^2 - 2x]_2^3",
    ]


def test_slips() -> None:
    found = worked("absolute-value", "abs(x-2)", "0", "3", "5/2")
    values = wrong_values(found)
    assert {
        "modulus-forgotten",
        "only-first-piece-taken",
        "only-last-piece-taken",
        "pieces-subtracted",
    } <= set(values)


@pytest.mark.parametrize(
    ("integrand", "lower", "upper"),
    [
        ("x", "0", "1"),
        ("ln(abs(x))", "1", "2"),  # the bars of a logarithm stay
        ("abs(x^3-x-1)", "0", "2"),  # its zero is known as a number only
        ("1/abs(x)", "-1", "1"),
        ("abs(sin(x^2))", "0", "2"),
    ],
)
def test_declined(integrand: str, lower: str, upper: str) -> None:
    assert value_with("absolute-value", integral(integrand, lower, upper)) is None
