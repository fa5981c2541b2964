"""Whole periods: values by hand, mpmath, and the orthogonality integrals of the NIST handbook."""

from __future__ import annotations

import pytest

from qbank.techniques.definites.choosing import value_with
from tests.techniques.definites.evaluating import board, first, integral, mpmath_agrees, worked, wrong_values

TABLE = (
    # NIST DLMF 4.26.11 with n = 3 and n = 5
    ("sin(3x)^2", "0", "pi", "pi/2"),
    ("cos(5x)^2", "0", "pi", "pi/2"),
    # by hand
    ("abs(sin(x))", "0", "6pi", "12"),
    ("abs(cos(2x))", "0", "3pi", "6"),
    ("sin(x)^2", "pi", "3pi", "pi"),
    ("sin(pi x)^2", "0", "5", "5/2"),
    ("cos(x)^2", "pi/3", "4pi/3", "pi/2"),
    ("(sin(x)+cos(x))^11", "0", "2pi", "0"),
    # no antiderivative is needed
    ("tan(cos(x))", "0", "2pi", "0"),
    ("sin(x) e^(cos(x)^2)", "pi/4", "9pi/4", "0"),
)


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), TABLE)
def test_value(integrand: str, lower: str, upper: str, value: str) -> None:
    worked("periods", integrand, lower, upper, value)
    assert first(integrand, lower, upper) == "periods"


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), TABLE[3:8:2])
def test_value_by_mpmath(integrand: str, lower: str, upper: str, value: str) -> None:
    kinks = [3.14159265358979 * k / 4 for k in range(1, 12)] if "abs" in integrand else []
    assert mpmath_agrees(worked("periods", integrand, lower, upper, value), *kinks)


def test_lines() -> None:
    found = worked("periods", "abs(sin(x))", "0", "6pi", "12")
    assert board(found)[:4] == [
        "abs(sin(x + pi)) = abs(sin x)",
        "6 ∫_0^pi abs(sin x) dx",
        "6 ∫_0^pi sin x dx",
        "6 [-cos x]_0^pi",
    ]
    assert {
        "one-period-only",
        "one-period-too-many",
        "one-period-too-few",
        "period-taken-twice-as-long",
        "periods-taken-to-cancel",
    } <= set(wrong_values(found))


@pytest.mark.parametrize(
    ("integrand", "lower", "upper"),
    [
        ("sin(x)^2", "0", "1"),
        ("sin(x)^2", "0", "3pi/2"),
        ("sin(x)^2", "0", "pi"),  # one period from 0: there is nothing to do
        ("x sin(x)^2", "0", "4pi"),
        ("tan(x)^2", "0", "2pi"),  # diverges
        ("x^2", "0", "2"),
        ("sin(x) + sin(pi x)", "0", "2pi"),
    ],
)
def test_declined(integrand: str, lower: str, upper: str) -> None:
    assert value_with("periods", integral(integrand, lower, upper)) is None
