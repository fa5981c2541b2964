"""Several angles in one expression: independent ones stay whole, dependent ones are combined or split."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.deciding import decide_antiderivative, decide_equal
from qbank.maths.exact.circular import coordinates
from qbank.maths.expression import Symbol, cos, sin
from qbank.maths.reading import read
from qbank.maths.verdict import Proved, Refuted

x = Symbol("x")


@pytest.mark.parametrize(
    ("answer", "integrand"),
    [
        # large constants inside would need high powers of the tangent of 1/2
        ("tan(x + 9)/4 + tan(2x + 5)/8", "sec(x + 9)^2/4 + sec(2x + 5)^2/4"),
        ("-cos(x + 9) + tan(2x + 5)/8 + sin(3x + 14)", "sin(x + 9) + sec(2x + 5)^2/4 + 3cos(3x + 14)"),
        ("sin(x - 4)/2 + sin(3x + 14)/6", "cos(x + 9) cos(2x + 5)"),
        ("ln|sec(3x + 1)| + ln|sec(5x + 7)|", "3tan(3x + 1) + 5tan(5x + 7)"),
        # the third angle is no whole combination of the first two
        ("sin(x + 2) + sin(x + 5) + sin x", "cos(x + 2) + cos(x + 5) + cos x"),
        ("sin(a x + 9)/a + tan(2a x + 5)/a", "cos(a x + 9) + 2 sec(2a x + 5)^2"),
    ],
)
def test_sums_of_different_angles(answer: str, integrand: str) -> None:
    right = read(integrand, variable=x).tree
    assert isinstance(decide_antiderivative(read(answer, variable=x).tree, right, x), Proved)
    wrong = read(f"{answer} + x/10^9", variable=x).tree
    assert isinstance(decide_antiderivative(wrong, right, x), Refuted)


@settings(max_examples=40)
@given(*[st.integers(-9, 9)] * 4)
def test_addition_theorem(a: int, b: int, c: int, d: int) -> None:
    first, second = a * x + b, c * x + d
    both = (a + c) * x + (b + d)
    # DLMF 4.21.2
    expanded = cos(first) * cos(second) - sin(first) * sin(second)
    assert isinstance(decide_equal(expanded, cos(both), x), Proved)


@given(st.lists(st.tuples(*[st.fractions(-5, 5, max_denominator=4)] * 2), min_size=2, max_size=2))
def test_coordinates(multiples: list[tuple[Fraction, Fraction]]) -> None:
    basis = [[Fraction(1), Fraction(9)], [Fraction(0), Fraction(2), Fraction(1)]]
    for p, q in multiples:
        assert coordinates(basis, [p, 9 * p + 2 * q, q]) == [p, q]
        assert coordinates(basis, [p, 9 * p + 2 * q, q + 1]) is None


@pytest.mark.parametrize(
    ("left", "right"),
    [
        ("cos|x|", "cos x"),
        ("sin|x| |x|", "x sin x"),
        ("sin(2|x|)^2", "sin(2x)^2"),
        ("tan(3|x|)/|x|", "tan(3x)/x"),
        ("|x| arctan|x|", "x arctan x"),
        ("arcsin(|x|/2)/|x|", "arcsin(x/2)/x"),
    ],
)
def test_even_and_odd(left: str, right: str) -> None:
    verdict = decide_equal(read(left, variable=x).tree, read(right, variable=x).tree, x)
    assert isinstance(verdict, Proved)


@pytest.mark.parametrize(
    ("left", "right"), [("sin|x|", "sin x"), ("arctan|x|", "arctan x"), ("cos(|x| + 1)", "cos(x + 1)")]
)
def test_not_even(left: str, right: str) -> None:
    verdict = decide_equal(read(left, variable=x).tree, read(right, variable=x).tree, x)
    assert isinstance(verdict, Refuted)
