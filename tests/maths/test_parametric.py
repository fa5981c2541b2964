"""Numbers with letters in them, against SymPy's rational functions."""

from __future__ import annotations

from fractions import Fraction

import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Expression, Integer, Power, Root, Symbol
from qbank.maths.oracle import to_sympy
from qbank.maths.parametric import Letters

A, B, X = Symbol("a"), Symbol("b"), Symbol("x")
LETTERS = Letters((A, B, X))


def _trees() -> st.SearchStrategy[Expression]:
    leaves = st.sampled_from([A, B, X, A + 1, B - X])
    return st.recursive(
        leaves,
        lambda inner: st.one_of(
            st.builds(lambda p, q: p + q, inner, inner),
            st.builds(lambda p, q: p * q, inner, inner),
            st.builds(lambda p, q: p / q, inner, inner),
            st.builds(lambda p, n: p**n, inner, st.integers(-2, 2)),
        ),
        max_leaves=5,
    )


@settings(max_examples=40)
@given(_trees())
def test_read_and_written_again(tree: Expression) -> None:
    seen, other = LETTERS.read(tree), sympy.cancel(to_sympy(tree))
    if seen is None:  # something like 1/(x - x)
        assert other.has(sympy.nan, sympy.zoo)
        return
    assert sympy.cancel(to_sympy(seen.tree()) - other) == 0
    assert sympy.cancel(to_sympy(seen.factored().tree()) - other) == 0


def test_what_is_no_quotient_of_polynomials() -> None:
    for tree in (Root(A), Power(Integer(2), A), Symbol("c") + A, A**40, 1 / (A - A)):
        assert LETTERS.read(tree) is None


def test_coefficients_and_factors() -> None:
    found = LETTERS.polynomial((A + B * X) ** 2 / A, X)
    assert found is not None
    assert [c.tree() for c in found] == [A, 2 * B, B**2 / A]
    assert LETTERS.polynomial(1 / X, X) is None
    square = LETTERS.read(X**2 - A**2)
    assert square is not None
    assert len(LETTERS.factors(square)) == 2


def test_equal_numbers_are_equal() -> None:
    one, other = LETTERS.read((A**2 - B**2) / (A - B)), LETTERS.read(A + B)
    assert one == other
    assert hash(one) == hash(other)
    assert LETTERS.number(Fraction(1, 2)) == Fraction(1, 2)
