"""Random expression trees of the whole language, as hypothesis strategies.

The trees are what a person could have written: letters and Greek letters, whole numbers and decimals, every
function of the table, nested sums and products with their brackets. Lines of working (integrals, differentials)
are a strategy of their own, since typed text has no reading for them.
"""

from __future__ import annotations

from functools import partial

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import (
    PI,
    Apply,
    Decimal,
    Differential,
    E,
    Evaluated,
    Expression,
    Integer,
    Integral,
    Limit,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
)
from qbank.maths.functions import FUNCTIONS

__all__ = ["expressions", "statements"]

NAMES = ("x", "t", "u", "a", "b", "k", "n", "f", "C", "theta", "alpha", "lambda", "Omega", "C_1", "x_2")

symbols = st.sampled_from(NAMES).map(Symbol)
integers = st.integers(min_value=0, max_value=99).map(Integer)
decimals = st.builds("{}.{}".format, st.integers(0, 99), st.sampled_from(["5", "50", "05", "125"])).map(
    Decimal
)
leaves = st.one_of(symbols, integers, decimals, st.sampled_from([PI, E]))


def _several(parts: SearchStrategy[Expression]) -> SearchStrategy[tuple[Expression, ...]]:
    return st.lists(parts, min_size=2, max_size=4).map(tuple)


def _larger(parts: SearchStrategy[Expression]) -> SearchStrategy[Expression]:
    return st.one_of(
        _several(parts).map(Sum),
        _several(parts).map(Product),
        parts.map(Negate),
        st.builds(Quotient, parts, parts),
        st.builds(Power, parts, parts),
        st.builds(Root, parts, st.sampled_from([2, 2, 3, 12])),
        st.builds(Apply, st.sampled_from(sorted(FUNCTIONS)), parts),
    )


def expressions(*, size: int = 12) -> SearchStrategy[Expression]:
    """Trees without integrals and differentials, of at most `size` leaves."""
    return st.recursive(leaves, _larger, max_leaves=size)


def _working(parts: SearchStrategy[Expression]) -> SearchStrategy[Expression]:
    limits = st.one_of(st.just((None, None)), st.tuples(parts, parts))
    return st.one_of(
        _larger(parts),
        symbols.map(Differential),
        st.builds(lambda body, variable, ends: Integral(body, variable, *ends), parts, symbols, limits),
        st.builds(Evaluated, parts, symbols, parts, parts),
        st.builds(Limit, parts, symbols, parts, st.sampled_from((-1, 0, 1))),
    )


def statements(*, size: int = 12) -> SearchStrategy[Statement]:
    """Anything that a line of working can show: every kind of node, and equations."""
    lines = partial(st.recursive, leaves, _working, max_leaves=size)
    return st.one_of(lines(), st.builds(Equation, lines(), lines()))
