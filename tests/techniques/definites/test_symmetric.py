"""Odd and even integrands: values by hand and by mpmath, the lines of one of each, what is not symmetric."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.techniques.definites.choosing import value_with
from tests.techniques.definites.evaluating import board, first, integral, mpmath_agrees, worked, wrong_values

ODD = (
    ("x^3 cos(x)", "-2", "2"),
    ("sin(x)^5", "-1", "1"),
    ("x/(x^2+1)", "-3", "3"),
    ("x e^(-x^2)", "-infinity", "infinity"),
    ("sin(25x) cos(20x)", "-pi/2", "pi/2"),
    # no antiderivative is needed
    ("tan(sin x)/(1+x^2)", "-1", "1"),
    ("x^3 sqrt(1+x^4) cos(x^2)", "-2", "2"),
)


@pytest.mark.parametrize(("integrand", "lower", "upper"), ODD)
def test_an_odd_integrand_gives_nought(integrand: str, lower: str, upper: str) -> None:
    worked("odd-symmetry", integrand, lower, upper, "0")
    assert first(integrand, lower, upper) == "odd-symmetry"


EVEN = (
    ("x^2+1", "-1", "1", "8/3"),
    ("cos(x)", "-pi/2", "pi/2", "2"),
    ("abs(x)", "-3", "3", "9"),
    ("1/(x^2+4)", "-infinity", "infinity", "pi/2"),
    ("e^(-abs(x))", "-infinity", "infinity", "2"),
    ("(x^2-1)/(x^2+1)", "-1", "1", "2 - pi"),
)


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), EVEN)
def test_an_even_integrand_is_doubled(integrand: str, lower: str, upper: str, value: str) -> None:
    found = worked("even-symmetry", integrand, lower, upper, value)
    assert mpmath_agrees(found, 0)


def test_odd_terms_go_and_even_ones_are_doubled() -> None:
    found = worked("odd-terms", "x^3 + x^2 - sin(x)", "-2", "2", "16/3")
    assert mpmath_agrees(found)
    assert board(found)[:3] == ["∫_(-2)^2 (x^3 - sin x) dx = 0", "2 ∫_0^2 x^2 dx", "2 [1/3 x^3]_0^2"]
    values = wrong_values(found)
    assert {"even-not-doubled", "doubled-without-halving-the-interval", "odd-terms-doubled-too"} <= set(
        values
    )


def test_a_product_with_a_sum_is_multiplied_out() -> None:
    # the area of half a disc of radius 2 is left
    found = worked("odd-terms", "(x^3 + 1) sqrt(4 - x^2)", "-2", "2", "2pi")
    assert board(found)[:3] == [
        "∫_(-2)^2 (x^3 sqrt(4 - x^2) + sqrt(4 - x^2)) dx",
        "∫_(-2)^2 x^3 sqrt(4 - x^2) dx = 0",
        "2 ∫_0^2 sqrt(4 - x^2) dx",
    ]


def test_lines_of_an_odd_integrand() -> None:
    found = worked("odd-symmetry", "x^3 cos(x)", "-2", "2", "0")
    assert board(found) == ["(-x)^3 cos(-x) = -x^3 cos x", "0"]
    assert found.lines[-1].reason == "The integrand is odd and the interval symmetric, so the integral is 0."


@pytest.mark.parametrize(
    ("way", "integrand", "lower", "upper"),
    [
        ("odd-symmetry", "x^3", "-2", "1"),
        ("odd-symmetry", "x^2", "-2", "2"),
        ("odd-symmetry", "1/x", "-1", "1"),  # it diverges: the halves do not cancel
        ("odd-symmetry", "x", "-infinity", "infinity"),
        ("even-symmetry", "x^3", "-1", "1"),
        ("even-symmetry", "x^2 + x", "-1", "1"),
        ("even-symmetry", "1/x^2", "-1", "1"),
        ("odd-terms", "x^2 + 1", "-1", "1"),
        ("odd-terms", "x^2 + e^x", "-1", "1"),
        ("odd-terms", "x^2 + x", "-1", "2"),
    ],
)
def test_declined(way: str, integrand: str, lower: str, upper: str) -> None:
    assert value_with(way, integral(integrand, lower, upper)) is None


def test_slips() -> None:
    odd = wrong_values(worked("odd-symmetry", "x^3 + x", "-2", "2", "0"))
    assert {"odd-called-even", "right-half-only", "left-half-only", "halves-subtracted"} == set(odd)
    even = wrong_values(worked("even-symmetry", "3x^2 + 1", "-2", "2", "20"))
    assert {
        "even-not-doubled",
        "doubled-without-halving-the-interval",
        "even-called-odd",
        "left-half-taken-negative",
    } <= set(even)


@settings(max_examples=15)
@given(st.integers(1, 5), st.integers(-6, 6), st.integers(-6, 6), st.integers(-6, 6))
def test_the_value_is_that_of_the_antiderivative(a: int, p: int, q: int, r: int) -> None:
    # a cubic from -a to a: only q x^2 and the constant count
    text = f"{p} x^3 + {q} x^2 + x + {r * r + 1}"
    value = 2 * (Fraction(q * a**3, 3) + (r * r + 1) * a)
    worked("odd-terms", text, f"-{a}", f"{a}", f"{value.numerator}/{value.denominator}")
