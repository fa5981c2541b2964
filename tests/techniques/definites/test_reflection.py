"""The reflection x -> a + b - x: integrals that no antiderivative is found for, and those that lose their factor x."""

from __future__ import annotations

import pytest

from qbank.techniques.definites.choosing import value_with
from tests.techniques.definites.evaluating import board, first, integral, mpmath_agrees, worked, wrong_values

TABLE = (
    ("sin(x)^5/(sin(x)^5+cos(x)^5)", "0", "pi/2", "pi/4"),
    ("sqrt(sin(x))/(sqrt(sin(x))+sqrt(cos(x)))", "0", "pi/2", "pi/4"),
    ("1/(1+tan(x)^217)", "0", "pi/2", "pi/4"),
    ("sqrt(x)/(sqrt(6-x)+sqrt(x))", "1", "5", "2"),
    ("x^4/(x^4+(3-x)^4)", "0", "3", "3/2"),
    ("ln(1+tan(x))", "0", "pi/4", "pi ln(2)/8"),
    ("1/(1+e^x)", "-2", "2", "2"),
    ("x sin(x)/(1+cos(x)^2)", "0", "pi", "pi^2/4"),
    ("cos(x+cos(x))", "0", "pi", "0"),
    ("x/(x^2-4x+8)", "0", "4", "pi/2"),
    ("x (1-x)^99", "0", "1", "1/10100"),
    ("x (2-x)^5", "0", "2", "64/21"),
    # a part that is the same backwards beside a weight that adds up to a number
    ("x^2/(1+e^x)", "-1", "1", "1/3"),
    ("cos(x)/(1+e^x)", "-pi/2", "pi/2", "1"),
    ("sin(x)^2/(1+2^x)", "-pi", "pi", "pi/2"),
    ("(x-1)^4/(1+e^((x-1)^3))", "0", "2", "1/5"),
    ("1/((1+x^2)(1+e^(sin(x))))", "-1", "1", "pi/4"),
)


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), TABLE)
def test_value(integrand: str, lower: str, upper: str, value: str) -> None:
    found = worked("reflection", integrand, lower, upper, value)
    assert first(integrand, lower, upper) == "reflection"
    assert mpmath_agrees(found)


def test_lines() -> None:
    found = worked("reflection", "sin(x)^3/(sin(x)^3+cos(x)^3)", "0", "pi/2", "pi/4")
    assert board(found) == [
        "I = ∫_0^(pi/2) (cos^3 x)/(cos^3 x + sin^3 x) dx",
        "2I = ∫_0^(pi/2) 1 dx",
        "pi/2",
        "I = pi/4",
    ]


def test_slips() -> None:
    found = worked("reflection", "x^2/(x^2+(5-x)^2)", "1", "4", "3/2")
    assert {
        "reflection-not-halved",
        "reflection-halved-twice",
        "reflected-form-subtracted",
        "interval-length-forgotten",
        "upper-limit-for-interval-length",
        "limits-added-for-interval-length",
    } == set(wrong_values(found))
    other = worked("reflection", "x sin(x)/(1+cos(x)^2)", "0", "pi", "pi^2/4")
    assert {"number-from-the-reflection-forgotten", "linear-factor-left-out"} <= set(wrong_values(other))


def test_a_square_of_a_sine_is_not_reflected_first() -> None:
    assert first("sin(x)^2", "0", "pi/2") == "antiderivative"
    worked("reflection", "sin(x)^2", "0", "pi/2", "pi/4")


@pytest.mark.parametrize(
    ("integrand", "lower", "upper"),
    [
        ("x^2", "0", "1"),
        ("x sin(x)", "0", "pi/2"),
        ("1/(x+1)", "0", "2"),
        ("e^(-x)", "0", "infinity"),
        ("x/(1+e^x)", "-1", "1"),
    ],
)
def test_declined(integrand: str, lower: str, upper: str) -> None:
    assert value_with("reflection", integral(integrand, lower, upper)) is None
