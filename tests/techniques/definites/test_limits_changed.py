"""Limits that change with the letter, and limits carried through other workings: values, lines, slips."""

from __future__ import annotations

import pytest

from qbank.techniques.definites.choosing import value_with
from tests.techniques.definites.evaluating import board, first, integral, mpmath_agrees, worked, wrong_values

CHANGED = (
    ("x/(x^2+1)", "0", "2", "ln(5)/2"),
    ("sin(x)^3", "0", "pi/2", "2/3"),
    ("x sqrt(x+1)", "0", "3", "116/15"),
    ("e^x/(e^x+1)", "0", "ln 3", "ln 2"),
    ("ln(x)^2/x", "1", "e", "1/3"),
    ("cos(x) e^sin(x)", "0", "pi/2", "e - 1"),
    ("x (x^2-1)^4", "1", "2", "243/10"),
    ("x/(x^2+1)", "2", "0", "-ln(5)/2"),
)
KEPT = (
    ("x^2+3", "1", "2", "16/3"),
    ("x e^x", "0", "1", "1"),
    ("e^x sin(x)", "0", "pi", "e^pi/2 + 1/2"),
    ("x^2/(x^2+1)", "0", "1", "1 - pi/4"),
    ("1/(x^2+4x+13)", "-2", "1", "pi/12"),
    # NIST DLMF 4.26.9 with m = 2, n = 3 and 4.26.10 with m = 1, n = 4
    ("sin(2x) sin(3x)", "0", "pi", "0"),
    ("cos(x) cos(4x)", "0", "pi", "0"),
)


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), CHANGED)
def test_limits_changed(integrand: str, lower: str, upper: str, value: str) -> None:
    found = worked("limits-changed", integrand, lower, upper, value)
    assert first(integrand, lower, upper) == "limits-changed"
    assert mpmath_agrees(found)
    assert "limits-changed" in {line.rule for line in found.lines}


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), KEPT)
def test_limits_kept(integrand: str, lower: str, upper: str, value: str) -> None:
    assert mpmath_agrees(worked("antiderivative", integrand, lower, upper, value))


def test_lines() -> None:
    found = worked("limits-changed", "x/(x^2+1)", "0", "2", "ln(5)/2")
    assert board(found) == [
        "u = x^2 + 1, du = 2x dx",
        "0^2 + 1 = 1, 2^2 + 1 = 5",
        "1/2 ∫_1^5 1/u du",
        "[1/2 ln|u|]_1^5",
        "1/2 ln|5| - 1/2 ln|1|",
        "1/2 ln 5",
    ]
    assert (
        found.lines[1].reason
        == "The limits change with the letter: x = 0 gives u = 1, and x = 2 gives u = 5."
    )


def test_by_parts_keeps_its_limits() -> None:
    assert board(worked("antiderivative", "x e^x", "0", "1", "1"))[2:4] == [
        "[x e^x]_0^1 - ∫_0^1 e^x dx",
        "[x e^x - e^x]_0^1",
    ]


def test_an_integral_that_comes_back_is_worked_first() -> None:
    lines = board(worked("antiderivative", "e^x sin(x)", "0", "pi", "e^pi/2 + 1/2"))
    assert lines[0] == "∫ e^x sin x dx"
    assert "∫_0^pi e^x sin x dx" in lines


def test_slips() -> None:
    values = wrong_values(worked("limits-changed", "sin(x)^3", "0", "pi/2", "2/3"))
    assert {
        "limits-not-changed",
        "put-back-and-limits-changed",
        "changed-limits-put-in-order",
        "only-upper-limit-changed",
        "lower-limit-ignored",
        "limits-swapped",
    } <= set(values)


@pytest.mark.parametrize(
    ("integrand", "lower", "upper"),
    [
        ("x", "0", "1"),
        ("1/(x (ln x)^2)", "1/2", "2"),  # u = ln x goes through 0
        (
            "sec(x)^2/tan(x)^2",
            "pi/4",
            "3pi/4",
        ),  # u = tan x jumps at pi/2, though the integrand has a value nearby
    ],
)
def test_declined(integrand: str, lower: str, upper: str) -> None:
    assert value_with("limits-changed", integral(integrand, lower, upper)) is None
