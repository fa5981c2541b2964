"""Where an expression is defined all the way: poles, edges of roots and logarithms are never crossed."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.covering import defined_between
from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import read

X = Symbol("x")


def tree(text: str) -> Expression:
    return read(text, variable=X).tree


@pytest.mark.parametrize(
    ("text", "lower", "upper", "whole"),
    [
        ("tan x", 0, 1, True),
        ("tan x", 0, 2, False),
        ("1/sqrt(9 - x^2)", -2, 2, True),
        ("1/sqrt(9 - x^2)", -2, 3, False),
        ("1/sqrt(9 - x^2)", -2, 4, False),
        ("ln|x|", 1, 4, True),
        ("ln|x|", -1, 4, False),
        ("ln x", -4, -1, False),
        # an integral across this place exists all the same, and its constant may change there
        ("1/x^(1/3)", -1, 1, False),
        ("arcsin(x/2)", -1, 1, True),
        ("(3x + 4)^3 e^(2x)", -5, 5, True),
        ("1/(x^2 + 6x + 10)", -5, 5, True),
    ],
)
def test_table(text: str, lower: int, upper: int, whole: bool) -> None:
    assert defined_between(tree(text), X, Fraction(lower), Fraction(upper)) is whole


@settings(deadline=None, max_examples=40)
@given(st.fractions(-4, 4), st.fractions(-4, 4), st.fractions(-4, 4))
def test_a_pole_is_seen_wherever_it_is(pole: Fraction, one: Fraction, other: Fraction) -> None:
    lower, upper = sorted((one, other))
    reciprocal = 1 / (X - pole)
    if lower <= pole <= upper:
        assert not defined_between(reciprocal, X, lower, upper)
    elif min(abs(lower - pole), abs(upper - pole)) > Fraction(1, 10):
        assert defined_between(reciprocal, X, lower, upper)
