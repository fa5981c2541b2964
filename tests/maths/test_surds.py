"""Surds: SymPy's square roots are the outside world; how they are written is the habit of the trade."""

from __future__ import annotations

from fractions import Fraction

import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st

from qbank.maths.expression import Integer, Symbol
from qbank.maths.notation import plain
from qbank.maths.oracle import to_sympy
from qbank.maths.surds import Surd, square_root

X = Symbol("x")


def _root(value: Fraction) -> Surd:
    root = square_root(value)
    assert root is not None
    return root


sizes = st.builds(Fraction, st.integers(1, 10**4), st.integers(1, 10**4))
surds = st.builds(lambda size, sign: _root(size).times(sign), sizes, st.sampled_from([1, -1]))


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (Fraction(4), "2"),
        (Fraction(0), "0"),
        (Fraction(12), "2 sqrt(3)"),
        (Fraction(9, 4), "3/2"),
        (Fraction(3, 4), "sqrt(3)/2"),
        (Fraction(1, 3), "1/sqrt(3)"),
        (Fraction(4, 3), "2/sqrt(3)"),
        (Fraction(1, 12), "1/(2 sqrt(3))"),
        (Fraction(1, 2), "1/sqrt(2)"),
        (Fraction(2, 3), "sqrt(6)/3"),
        (Fraction(36, 3), "2 sqrt(3)"),
    ],
)
def test_written(value: Fraction, written: str) -> None:
    assert plain(_root(value).tree()) == written


def test_in_front() -> None:
    assert Surd(Fraction(0), 3).in_front_of(X) == Integer(0)
    assert Surd(Fraction(1)).in_front_of(X) == X
    assert plain(Surd(Fraction(-1, 2), 3).in_front_of(Integer(1))) == "-sqrt(3)/2"


@pytest.mark.parametrize("value", [Fraction(-1), Fraction(10**12 + 1), Fraction(1, 10**12 + 1)])
def test_no_root(value: Fraction) -> None:
    assert square_root(value) is None


@pytest.mark.parametrize("value", [999983**2, 7 * 99991**2, 999999999989, 2 * 3 * 5 * 7 * 11 * 13, 10**12])
def test_large_numbers(value: int) -> None:
    assert sympy.simplify(to_sympy(_root(Fraction(value)).tree()) - sympy.sqrt(value)) == 0


@given(sizes)
def test_the_square_comes_back_and_the_radicand_has_no_square(value: Fraction) -> None:
    root = _root(value)
    assert root.square == value
    assert root.rational > 0
    assert all(power == 1 for power in sympy.factorint(root.radicand).values())


@given(surds, surds)
def test_products_and_reciprocals(left: Surd, right: Surd) -> None:
    both = left.times(right)
    assert both.square == left.square * right.square
    assert (both.rational > 0) == ((left.rational > 0) == (right.rational > 0))
    assert left.times(left.reciprocal()) == Surd(Fraction(1))


@given(surds)
def test_the_tree_has_the_value(surd: Surd) -> None:
    assert to_sympy(surd.tree()) ** 2 == sympy.Rational(surd.square.numerator, surd.square.denominator)
    assert (to_sympy(surd.tree()) > 0) == (surd.rational > 0)
