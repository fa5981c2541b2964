"""Polynomials recognised in trees and written back in order."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Integer, Negate, Power, Quotient, Symbol, rational, sin
from qbank.maths.polynomial import as_linear, as_monomial, as_polynomial, monomial_tree, polynomial_tree

x, u = Symbol("x"), Symbol("u")


def exact(*values: int | Fraction) -> tuple[Fraction, ...]:
    return tuple(Fraction(value) for value in values)


def test_recognised() -> None:
    assert as_polynomial((x + 1) * (x - 1), x) == exact(-1, 0, 1)
    assert as_polynomial((2 * x + 1) ** 3, x) == exact(1, 6, 12, 8)
    assert as_polynomial(x / 2 - rational(1, 3), x) == (Fraction(-1, 3), Fraction(1, 2))
    assert as_polynomial(Integer(0), x) == ()
    assert as_polynomial((x - x) * x, x) == ()
    assert as_polynomial(Power(Integer(2), Integer(3)), x) == exact(8)


def test_declined() -> None:
    for tree in (
        u * x,
        1 / x,
        x / (x - x),
        x**u,
        x ** rational(1, 2),
        x**-1,
        sin(x),
        x**65,
        (x**9) ** 8,
        x + sin(x),
        Integer(2) ** 1000,
        Quotient(x, u),
        (x**40) * (x**40),
    ):
        assert as_polynomial(tree, x) is None


def test_linear() -> None:
    assert as_linear(5 - 2 * x, x) == exact(-2, 5)
    assert as_linear(Integer(3), x) is None
    assert as_linear(x**2, x) is None


def test_monomials() -> None:
    assert as_monomial(-(2 * x**3)) == (Fraction(-2), x, 3)
    assert as_monomial(x**2 / 5) == (Fraction(Fraction(1, 5)), x, 2)
    assert as_monomial(Integer(7)) == (Fraction(7), None, 0)
    assert as_monomial(Negate(sin(x))) is None
    assert as_monomial(x / u) is None
    assert as_monomial(u * x) is None
    assert monomial_tree(-1, x, 1) == Negate(x)
    assert monomial_tree(0, x, 3) == Integer(0)


@settings(max_examples=60)
@given(st.lists(st.fractions(-100, 100, max_denominator=9), max_size=6))
def test_written_and_read_back(values: list[Fraction]) -> None:
    while values and values[-1] == 0:
        values.pop()
    assert as_polynomial(polynomial_tree(tuple(values), x), x) == tuple(values)
