"""Rigorous values: digits, zero, and where there is no value."""

from __future__ import annotations

from fractions import Fraction

import mpmath
import pytest
from hypothesis import assume, given, settings

from qbank.maths.deciding import derivative_at, enclose
from qbank.maths.expression import E, Expression, Integer, Symbol, cos, exp, ln, rational, sin, sqrt
from qbank.maths.reading import read
from tests.maths.smooth import constants, mp_value

x = Symbol("x")


@pytest.mark.parametrize(
    ("text", "digits", "decimal"),
    [
        # mpmath 1.3, mp.dps = 50
        ("pi", 30, "3.14159265358979323846264338328"),
        ("e", 25, "2.718281828459045235360287"),
        ("sqrt(2)", 20, "1.4142135623730950488"),
        ("ln 2", 17, "0.69314718055994531"),
        ("1/3", 10, "0.3333333333"),
        ("1/8", 2, "0.12"),
        ("3/24", 2, "0.12"),
        ("e^100", 5, "2.6881e43"),
        ("e^(-100)", 5, "3.7201e-44"),
        ("2^0.5", 10, "1.414213562"),
        ("sin(10^30)", 10, "-0.09011690191"),
        ("e^(pi sqrt(163))", 30, "262537412640768743.999999999999"),
        ("7", 5, "7"),
    ],
)
def test_known_digits(text: str, digits: int, decimal: str) -> None:
    found = enclose(read(text).tree, at={}, digits=digits)
    assert found is not None
    assert found.decimal == decimal
    assert found.lower <= found.upper


def test_a_tie_between_two_roundings_is_given_to_either() -> None:
    # (3 sqrt 2 / 8)^2 = 9/32 = 0.28125 exactly, seen through balls
    found = enclose((3 * sqrt(Integer(2)) / 8) ** 2, at={}, digits=4)
    assert found is not None
    assert found.decimal in ("0.2812", "0.2813")


@pytest.mark.parametrize(
    "text", ["0", "1 - 1", "sin(pi)", "ln(6) - ln 2 - ln 3", "sin(pi/3) - sqrt(3)/2", "sqrt(12) - 2 sqrt(3)"]
)
def test_zero_is_proved_to_be_zero(text: str) -> None:
    found = enclose(read(text).tree, at={})
    assert found is not None
    assert found.decimal == "0"
    assert found.lower == found.upper == 0


@pytest.mark.parametrize(
    "text",
    [
        "1/0",
        "ln(-1)",
        "sqrt(-2)",
        "arcsin 2",
        "0^(-1)",
        "1/(sin(pi))",
        "ln(sin(pi))",
        "(-1)^(1/2)",
    ],
)
def test_no_real_value(text: str) -> None:
    assert enclose(read(text).tree, at={}) is None


def test_a_zero_that_nobody_can_prove_has_no_enclosure() -> None:
    # 8 cos^3(pi/9) - 6 cos(pi/9) - 1 = 0 (three times pi/9): not in the reach of the normal form
    assert enclose(read("8cos(pi/9)^3 - 6cos(pi/9) - 1").tree, at={}) is None


def test_a_number_too_large_or_too_small_to_write_out() -> None:
    assert enclose(exp(exp(Integer(20))), at={}) is None
    assert enclose(exp(-exp(Integer(20))), at={}) is None
    # 20000/ln 10 = 8685.8896...
    assert enclose(exp(Integer(20000)), at={}, digits=3).decimal == "7.76e8685"  # type: ignore[union-attr]


def test_letters_have_values() -> None:
    at = {x: Fraction(1, 2), Symbol("a"): Fraction(-3)}
    assert enclose(x * Symbol("a"), at=at).decimal == "-1.5"  # type: ignore[union-attr]
    assert enclose(sin(x) - sin(rational(1, 2)), at=at).decimal == "0"  # type: ignore[union-attr]
    assert enclose(Symbol("b"), at=at) is None


def test_derivatives() -> None:
    at = {x: Fraction(2)}
    assert derivative_at(x**3, x, at).decimal == "12"  # type: ignore[union-attr]
    assert derivative_at(ln(x), x, at).decimal == "0.5"  # type: ignore[union-attr]
    assert derivative_at(E * 1, x, at).decimal == "0"  # type: ignore[union-attr]
    assert derivative_at(sin(x) ** 2 + cos(x) ** 2, x, at).decimal == "0"  # type: ignore[union-attr]
    # where the function itself has no value, its derivative has none
    assert derivative_at(ln(-x), x, at) is None
    # a zero at one point only is not seen to be zero
    assert derivative_at(exp(x) - x * exp(Integer(2)), x, at) is None


@settings(max_examples=60)
@given(constants())
def test_enclosures_hold_what_mpmath_finds(node: Expression) -> None:
    found = enclose(node, at={}, digits=15)
    assume(found is not None)
    assert found is not None
    with mpmath.workdps(60):
        value = mpmath.re(mp_value(node, None))
        slack = mpmath.mpf("1e-40") * (1 + abs(value))
        assert mpmath.mpf(found.lower.numerator) / found.lower.denominator <= value + slack
        assert mpmath.mpf(found.upper.numerator) / found.upper.denominator >= value - slack
        assert abs(mpmath.mpf(found.decimal) - value) <= mpmath.mpf("1e-14") * abs(value) + slack
