"""Enclosures of definite integrals: textbook values, classical constants, and refusals."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import count

import mpmath
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths import clock
from qbank.maths.expression import (
    INFINITY,
    PI,
    Apply,
    Decimal,
    E,
    Expression,
    Integer,
    Power,
    Root,
    Symbol,
    cos,
    exp,
    ln,
    rational,
    sin,
    sqrt,
    tan,
)
from qbank.maths.quadrature import Enclosed, Enclosure, Refused, integrate_rigorously

X = Symbol("x")
ZERO, ONE, TWO = Integer(0), Integer(1), Integer(2)
m = mpmath


def enclosure(integrand: Expression, lower: Expression, upper: Expression, *, digits: int = 20) -> Enclosure:
    return integrate_rigorously(integrand, X, lower, upper, digits=digits)


def assert_encloses(found: Enclosure, true: object, *, width: float = 1e-18) -> None:
    assert isinstance(found, Enclosed), found
    with mpmath.workdps(60):
        value = mpmath.mpf(true() if callable(true) else true)
        low, high = (mpmath.mpf(end.numerator) / end.denominator for end in (found.lower, found.upper))
        slack = mpmath.mpf(10) ** -50 * (1 + abs(value))
        assert low - slack <= value <= high + slack
        assert high - low <= width * (1 + abs(value))


#: the right sides are textbook values (common practice) or named
PROPER = [
    (sin(X), ZERO, PI, 2),
    (X**2, ZERO, Integer(3), 9),
    (1 / X, ONE, TWO, lambda: m.log(2)),
    (1 / (1 + X**2), ZERO, ONE, lambda: m.pi / 4),
    (Apply("sec", X) ** 2, ZERO, PI / 4, 1),
    (exp(X), ZERO, ln(TWO), 1),
    (1 / (1 + X**2), -sqrt(Integer(3)), sqrt(Integer(3)), lambda: 2 * m.pi / 3),
    (Apply("abs", X), rational(-1), TWO, 2.5),
    (Apply("abs", sin(X)), ZERO, 2 * PI, 4),
    (Root(X, 3), rational(-1), Integer(8), lambda: m.mpf(45) / 4),
    (Power(X, rational(1, 3)), rational(-8), Integer(8), 0),
    (Power(X, rational(2, 3)), rational(-1), ONE, lambda: m.mpf(6) / 5),
    (sqrt(1 - X**2), rational(-1), ONE, lambda: m.pi / 2),
    (Apply("arcsin", X), ZERO, ONE, lambda: m.pi / 2 - 1),
    (sqrt(X * (1 - X)), ZERO, ONE, lambda: m.pi / 8),
    (Apply("arccot", X), rational(-1), ONE, lambda: m.pi),
    (Power(TWO, X), ZERO, ONE, lambda: 1 / m.log(2)),
    (X * Decimal("0.5"), ZERO, TWO, 1),
]

IMPROPER = [
    (1 / sqrt(X), ZERO, ONE, 2),
    (ln(X), ZERO, ONE, -1),
    (X * ln(X), ZERO, ONE, lambda: -m.mpf(1) / 4),
    (1 / sqrt(1 - X**2), ZERO, ONE, lambda: m.pi / 2),
    (1 / sqrt(1 - X**2), rational(-1), ONE, lambda: m.pi),
    (Power(X, rational(-2, 3)), rational(-1), Integer(8), 9),
    (ln(Apply("abs", X)), rational(-1), ONE, -2),
    (sin(X) / X, ZERO, PI, lambda: m.si(m.pi)),
    (sin(X) / X, -PI, PI, lambda: 2 * m.si(m.pi)),
    (sin(3 * X) / sin(X), rational(-1), 2 * PI, lambda: m.sin(2) + 1 + 2 * m.pi),
    ((X - 1) / ln(X), ZERO, TWO, lambda: m.li(4) - m.li(2)),
    (sqrt(Apply("abs", tan(X))), ZERO, PI, lambda: m.pi * m.sqrt(2)),
    (ln(sin(X)), ZERO, PI / 2, lambda: -m.pi / 2 * m.log(2)),
    (sqrt(tan(X)), ZERO, PI / 2, lambda: m.pi / m.sqrt(2)),
    (exp(-(X**2)), -INFINITY, INFINITY, lambda: m.sqrt(m.pi)),
    (exp(-X), ZERO, INFINITY, 1),
    (exp(X), -INFINITY, ZERO, 1),
    (X**3 / (exp(X) - 1), ZERO, INFINITY, lambda: m.pi**4 / 15),
    (1 / (1 + X**2), -INFINITY, INFINITY, lambda: m.pi),
    (1 / (1 + X**2), -INFINITY, rational(-1), lambda: m.pi / 4),
    (1 / X**2, ONE, INFINITY, 1),
    (ln(X) / X**2, ONE, INFINITY, 1),
    (1 / (X * sqrt(X**2 - 1)), ONE, INFINITY, lambda: m.pi / 2),
    (exp(-X) / sqrt(X), ZERO, INFINITY, lambda: m.sqrt(m.pi)),
    (Power(X, -X), ZERO, ONE, lambda: m.nsum(lambda n: n**-n, [1, m.inf])),
    (X**5 * exp(-X) * sin(X), ZERO, INFINITY, -15),
    (1 / (X * ln(X) ** 2), TWO, INFINITY, lambda: 1 / m.log(2)),
    (1 / (X * Power(ln(X), rational(3, 2))), Integer(3), INFINITY, lambda: 2 / m.sqrt(m.log(3))),
    (1 / (X * ln(X) ** 2), ZERO, rational(1, 2), lambda: 1 / m.log(2)),
]


@pytest.mark.parametrize("case", range(len(PROPER)))
def test_proper_integrals(case: int) -> None:
    tree, lower, upper, true = PROPER[case]
    assert_encloses(enclosure(tree, lower, upper), true)


@pytest.mark.parametrize("case", range(len(IMPROPER)))
def test_improper_integrals(case: int) -> None:
    tree, lower, upper, true = IMPROPER[case]
    assert_encloses(enclosure(tree, lower, upper), true)


@pytest.mark.parametrize(
    ("tree", "lower", "upper", "reason"),
    [
        (1 / X, rational(-1), ONE, "diverges at x = 0.*order"),
        (1 / X**2, rational(-1), ONE, "diverges at x = 0"),
        (1 / (X - 1), ZERO, Integer(3), "diverges at x = 1"),
        (tan(X), ZERO, PI, r"diverges at x = 1.57.*of order \|x - a\|\^\(-1\)"),
        (Apply("sec", X) ** 2, ZERO, PI, r"diverges at x = 1.57.*of order \|x - a\|\^\(-2\)"),
        (tan(X), ZERO, PI / 2, "diverges at x = 1.57"),
        (1 / (X**2 - 2), ZERO, TWO, "no finite bound.*near x = 1.41"),
        (1 / X, ZERO, ONE, "diverges at x = 0"),
        (1 / X, ONE, INFINITY, "diverges at infinity"),
        (1 / (X * ln(X)), TWO, INFINITY, "diverges at infinity"),
        (exp(X), ZERO, INFINITY, "diverges at infinity.*exponentially"),
        (exp(-X), -INFINITY, ZERO, "diverges at minus infinity"),
        (Integer(1), ZERO, INFINITY, "diverges"),
        (ln(X), rational(-1), ONE, "negative|real value"),
        (sqrt(X), rational(-1), ONE, "positive|real value"),
        (sqrt(X), rational(-2), rational(-1), "positive|no real value"),
        (Apply("arcsin", X), ZERO, TWO, "real value|positive"),
        (Apply("arcosh", X), ZERO, TWO, "real value|positive|negative"),
        (sqrt(cos(X)), ZERO, PI, "real value|no enclosure"),
        (Power(X, PI), rational(-1), ONE, "real value|negative"),
        (sin(X) / X, ONE, INFINITY, "converge"),
        (X * Symbol("a"), ZERO, ONE, "letter a"),
        (X, ZERO, ln(rational(-1)), "no real value"),
        (X, ZERO, Symbol("b"), "letter b"),
        (sin(1 / X), ZERO, ONE, "."),
        (X, sqrt(TWO) ** 2, TWO, "too close"),
    ],
)
def test_refusals(tree: Expression, lower: Expression, upper: Expression, reason: str) -> None:
    found = integrate_rigorously(tree, X, lower, upper, effort=100_000)
    assert isinstance(found, Refused)
    assert re.search(reason, found.reason), found.reason


def test_reversed_limits_change_the_sign() -> None:
    there, back = enclosure(X**2, ZERO, ONE), enclosure(X**2, ONE, ZERO)
    assert isinstance(there, Enclosed)
    assert isinstance(back, Enclosed)
    assert (back.lower, back.upper) == (-there.upper, -there.lower)


@pytest.mark.parametrize("limit", [ONE, PI, INFINITY])
def test_equal_limits_give_nothing(limit: Expression) -> None:
    assert enclosure(1 / X, limit, limit) == Enclosed(lower=Fraction(0), upper=Fraction(0), digits_text="0")


def test_a_value_near_0_shows_the_places_that_are_certain() -> None:
    found = enclosure(sin(X), ZERO, 2 * PI)
    assert isinstance(found, Enclosed)
    assert found.digits_text == "0.00000000000000000000"


@pytest.mark.parametrize(("upper", "effort"), [(Integer(20), 0), (Integer(20), 60), (INFINITY, 300)])
def test_too_little_work_is_said(upper: Expression, effort: int) -> None:
    found = integrate_rigorously(sin(X**2) * exp(-X), X, ZERO, upper, effort=effort)
    assert found == Refused(reason="no enclosure was found with the work allowed")


def test_work_is_counted_and_not_timed(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a machine where a second passes between two looks at any clock, the same comes out."""
    hard = sqrt(Apply("abs", X**2 - 2))  # the work allowed is used up, and fewer digits are given
    at_ease = integrate_rigorously(hard, X, ZERO, TWO, effort=20_000)
    seconds = count()
    for name in ("monotonic", "thread_time"):
        monkeypatch.setattr(clock, name, lambda: float(next(seconds)))
    assert integrate_rigorously(hard, X, ZERO, TWO, effort=20_000) == at_ease
    assert isinstance(at_ease, Enclosed)
    assert len(at_ease.digits_text) < 12


def test_fewer_digits_where_the_wanted_ones_cost_too_much() -> None:
    """An oscillating tail that only falls like x^-4: twenty digits would need far too long a stretch."""
    found = integrate_rigorously(4 * cos(4 * X) / (X**4 + 4), X, ZERO, INFINITY)
    # by the residue theorem, NIST DLMF 1.10(iv)
    assert_encloses(found, lambda: m.pi * (m.sin(4) + m.cos(4)) / (2 * m.e**4), width=1e-7)


def test_a_value_too_large_to_write_is_refused() -> None:
    found = enclosure(exp(exp(13 * X)), ZERO, ONE)
    assert found == Refused(reason="the value of the integral is too large to be written out")


def test_a_value_too_small_to_write_is_near_0() -> None:
    found = enclosure(exp(-exp(1000 * X)), ONE, TWO)
    assert isinstance(found, Enclosed)
    assert Fraction(-1, 10**1000) < found.lower <= 0 < found.upper < Fraction(1, 10**1000)


def test_other_accuracies() -> None:
    assert_encloses(
        enclosure(exp(-(X**2)), ZERO, ONE, digits=40), lambda: m.sqrt(m.pi) / 2 * m.erf(1), width=1e-38
    )
    assert_encloses(
        enclosure(exp(-(X**2)), ZERO, ONE, digits=5), lambda: m.sqrt(m.pi) / 2 * m.erf(1), width=1e-4
    )


@settings(max_examples=25)
@given(
    coefficients=st.lists(st.integers(-9, 9), min_size=1, max_size=5),
    low=st.fractions(-5, 5, max_denominator=9),
    high=st.fractions(-5, 5, max_denominator=9),
)
def test_polynomials_exactly(coefficients: list[int], low: Fraction, high: Fraction) -> None:
    tree: Expression = Integer(0)
    true = Fraction(0)
    for power, coefficient in enumerate(coefficients):
        tree = tree + rational(coefficient) * X**power
        true += Fraction(coefficient, power + 1) * (high ** (power + 1) - low ** (power + 1))
    found = enclosure(tree, rational(low), rational(high))
    assert isinstance(found, Enclosed)
    assert found.lower <= true <= found.upper


@settings(max_examples=15)
@given(p=st.fractions(Fraction(-6, 7), 3, max_denominator=7), scale=st.integers(1, 5))
def test_powers_at_0_and_at_infinity(p: Fraction, scale: int) -> None:
    """The beta integral of x^p, at 0 for every p > -1, and its mirror image from infinity."""
    near = enclosure(scale * Power(X, rational(p)), ZERO, ONE)
    assert_encloses(near, lambda: scale / (m.mpf(p.numerator) / p.denominator + 1), width=1e-6)
    far = enclosure(scale * Power(X, rational(-p - 2)), ONE, INFINITY)
    assert_encloses(far, lambda: scale / (m.mpf(p.numerator) / p.denominator + 1), width=1e-6)


def test_a_constant_e_is_a_number() -> None:
    assert_encloses(enclosure(E * X**0, ZERO, ONE), lambda: m.e)
