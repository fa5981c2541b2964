"""Tidy: what it does, what it leaves, and its laws."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.bank.arithmetic import NotRationalError, evaluate
from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    rational,
    sin,
    sqrt,
)
from qbank.maths.tidying import scaled, split_coefficient, tidy

x, u = Symbol("x"), Symbol("u")
half = rational(1, 2)

TABLE: list[tuple[Expression, Expression]] = [
    (2 * (3 * x), 6 * x),
    (1 * x + 0, x),
    ((-1) * x * (-2), 2 * x),
    (2 * x / 4, x / 2),
    (x / 2 * 3, rational(3, 2) * x),
    (Quotient(Negate(x), rational(-3)), x / 3),
    (Quotient(-x, Integer(3)), -(x / 3)),
    (half * (rational(1, 3) * sin(x)), rational(1, 6) * sin(x)),
    (Quotient(Integer(2), 3 * x), Quotient(Integer(2), 3 * x)),
    (rational(2, 3) * (1 / x), Quotient(Integer(2), 3 * x)),
    (Quotient(6 * x, 4 * sin(x)), Quotient(3 * x, 2 * sin(x))),
    (0 * x, Integer(0)),
    (Negate(Integer(0)), Integer(0)),
    (Negate(Negate(x)), x),
    (x**1, x),
    (Integer(2) ** 3, Integer(8)),
    (rational(1, 2) ** -2, Integer(4)),
    (Integer(5) ** 0, Integer(1)),
    (E**0, Integer(1)),
    (sqrt(Integer(9)), Integer(3)),
    (sqrt(rational(4, 9)), rational(2, 3)),
    (Apply("ln", Integer(1)), Integer(0)),
    # polynomials in order; the negative highest term goes last
    (1 - x**2, 1 - x**2),
    (4 + x**2, x**2 + 4),
    (2 * x + 3 * x, 5 * x),
    (x**2 - x**2 + 1, Integer(1)),
    (Negate(x) + 3 + x**2, x**2 - x + 3),
    # numbers fold in a sum that is no polynomial, where the first of them stood
    (1 + sin(x) + 2, 3 + sin(x)),
    (sin(x) + 1 - 1, sin(x)),
    (Sum((sin(x), Sum((x, Integer(1))))), sin(x) + x + 1),
]

UNCHANGED: list[Expression] = [
    (1 - sin(x) ** 2) * Apply("cos", x),
    sin(x) * sin(x) ** 2,
    Quotient(Integer(1), Integer(0)),
    x**0,
    Integer(0) ** -1,
    sqrt(Integer(12)),
    sqrt(rational(-4)),
    Root(Integer(8), 3),
    Integer(10) ** 100,
    rational(3, 8) * x,
    x * u + x,
    x**u,
    -(x + sin(x)),
]


@pytest.mark.parametrize(("tree", "wanted"), TABLE)
def test_table(tree: Expression, wanted: Expression) -> None:
    assert tidy(tree) == wanted


@pytest.mark.parametrize("tree", UNCHANGED)
def test_shape_is_left_alone(tree: Expression) -> None:
    assert tidy(tree) == tree


def test_scaled() -> None:
    assert scaled(1, x) == x
    assert scaled(-1, x) == Negate(x)
    assert scaled(0, x) == Integer(0)
    assert scaled(Fraction(3, 2), Integer(4)) == Integer(6)
    assert scaled(Fraction(3, 2), x / 3) == half * x
    assert scaled(3, Quotient(Integer(1), x)) == Quotient(Integer(3), x)
    assert scaled(Fraction(1, 3), Quotient(sin(x), x)) == Quotient(sin(x), 3 * x)


def test_split_coefficient() -> None:
    assert split_coefficient(rational(-3, 2) * sin(x)) == (Fraction(-3, 2), sin(x))
    assert split_coefficient(Quotient(x, Integer(0)))[0] == 1


def trees() -> st.SearchStrategy[Expression]:
    leaves = st.one_of(st.integers(0, 12).map(Integer), st.just(x), st.just(u))

    def grow(inner: st.SearchStrategy[Expression]) -> st.SearchStrategy[Expression]:
        several = st.lists(inner, min_size=2, max_size=3).map(tuple)
        return st.one_of(
            several.map(Sum),
            several.map(Product),
            inner.map(Negate),
            st.tuples(inner, inner).map(lambda p: Quotient(*p)),
            st.tuples(inner, st.integers(0, 3).map(Integer)).map(lambda p: Power(*p)),
        )

    return st.recursive(leaves, grow, max_leaves=12)


@given(trees())
@settings(max_examples=100)
def test_tidying_twice_changes_nothing_more(tree: Expression) -> None:
    once = tidy(tree)
    assert tidy(once) == once


@given(trees(), st.fractions(-5, 5, max_denominator=7), st.fractions(-5, 5, max_denominator=7))
@settings(max_examples=100)
def test_the_value_stays(tree: Expression, first: Fraction, second: Fraction) -> None:
    values = {"x": first, "u": second}
    try:
        before = evaluate(tree, values)
    except NotRationalError:
        return
    assert evaluate(tidy(tree), values) == before
