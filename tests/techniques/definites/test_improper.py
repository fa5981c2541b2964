"""Improper integrals: values by hand, by mpmath and of the NIST handbook; the limit stands in the lines."""

from __future__ import annotations

import pytest

from qbank.techniques.definites.choosing import value_all, value_with
from tests.techniques.definites.evaluating import board, first, integral, mpmath_agrees, worked, wrong_values

TABLE = (
    ("1/x^2", "1", "infinity", "1"),
    ("e^(-3x)", "0", "infinity", "1/3"),
    ("x e^(-x)", "0", "infinity", "1"),
    ("x e^(-x^2)", "0", "infinity", "1/2"),
    ("1/(x^2+9)", "-infinity", "infinity", "pi/3"),
    ("1/(x(x+1))", "1", "infinity", "ln 2"),
    ("ln(x)/x^2", "1", "infinity", "1"),
    ("1/sqrt(x)", "0", "4", "4"),
    ("1/sqrt(9-x^2)", "0", "3", "pi/2"),
    ("ln(x)", "0", "1", "-1"),
    ("e^x", "-infinity", "0", "1"),
    ("1/(sqrt(x)(1+x))", "0", "infinity", "pi"),
    # NIST DLMF 4.10.13
    ("1/(e^x+1)", "0", "infinity", "ln 2"),
)


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), TABLE)
def test_value(integrand: str, lower: str, upper: str, value: str) -> None:
    worked("improper", integrand, lower, upper, value)
    assert not {"antiderivative", "limits-changed"} & {
        found.way for found in value_all(integral(integrand, lower, upper))
    }


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), TABLE[:7])
def test_value_by_mpmath(integrand: str, lower: str, upper: str, value: str) -> None:
    assert mpmath_agrees(worked("improper", integrand, lower, upper, value))


def test_lines() -> None:
    found = worked("improper", "e^(-3x)", "0", "infinity", "1/3")
    assert board(found) == [
        "lim_(b → infinity) ∫_0^b e^(-3x) dx",
        "lim_(b → infinity) [-1/3 e^(-3x)]_0^b",
        "lim_(b → infinity) (-1/3 e^(-3b) - (-1/3 e^(-3 * 0)))",
        "lim_(b → infinity) (-1/3 e^(-3b) + 1/3)",
        "1/3",
    ]
    at_end = board(worked("improper", "1/sqrt(x)", "0", "4", "4"))
    assert at_end[0] == "lim_(a → 0^+) ∫_a^4 1/sqrt(x) dx"


def test_a_place_inside_splits_the_interval() -> None:
    found = worked("improper", "x^(-2/3)", "-1", "8", "9")
    assert board(found)[0] == "lim_(b → 0^-) ∫_(-1)^b x^(-2/3) dx + lim_(a → 0^+) ∫_a^8 x^(-2/3) dx"


@pytest.mark.parametrize(
    ("integrand", "lower", "upper"),
    [
        ("1/x", "1", "infinity"),
        ("1/x^2", "-1", "1"),  # the antiderivative between its limits would say -2
        ("1/x^2", "0", "1"),
        ("sin(x)", "0", "infinity"),
        ("x/(x^2+1)", "-infinity", "infinity"),
        ("x^2", "0", "1"),
        ("tan(x)", "0", "pi/2"),
    ],
)
def test_declined(integrand: str, lower: str, upper: str) -> None:
    assert value_with("improper", integral(integrand, lower, upper)) is None


def test_what_diverges_gets_no_value_at_all() -> None:
    assert first("1/x^2", "-1", "1") is None
    assert first("1/x", "1", "infinity") is None


def test_slips() -> None:
    values = wrong_values(worked("improper", "1/(x^2+1)", "1", "infinity", "pi/4"))
    assert {
        "limit-taken-for-nought",
        "other-end-forgotten",
        "sign-of-other-end",
        "infinity-put-in-like-nought",
    } <= set(values)
