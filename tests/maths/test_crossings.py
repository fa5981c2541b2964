"""Zeros are exact, complete and in order. SymPy's solver and mpmath's root finder are the outside world."""

from __future__ import annotations

from fractions import Fraction

import mpmath
import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.crossings import ZerosUnknown, real_zeros, signs_between, zeros_from_to
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression, Symbol, product, rational
from qbank.maths.notation import plain
from qbank.maths.oracle import to_sympy
from qbank.maths.squaring import squared
from tests.techniques.solving import X, tree


def number(constant: Expression) -> float:
    found = enclose(constant, at={})
    assert found is not None
    return float(found.lower)


#: by hand: function, interval, zeros there
TABLE = (
    ("x^2 - 2", "0", "2", ("sqrt(2)",)),
    ("x^2 - x - 1", "-5", "5", ("(1 - sqrt(5))/2", "(1 + sqrt(5))/2")),
    ("12x^2 - 12x + 1", "0", "1", ("(3 - sqrt(6))/6", "(3 + sqrt(6))/6")),
    ("x^3 - x", "-1", "2", ("-1", "0", "1")),
    ("(x - 1)^2 (x + 2)", "-3", "3", ("-2", "1")),
    ("sin(x) - cos(x)", "0", "2pi", ("pi/4", "5pi/4")),
    ("sin(2x) - sin(x)", "0", "pi", ("0", "pi/3", "pi")),
    ("2 cos(3x) - 1", "0", "pi/3", ("pi/9",)),
    ("e^x - 2", "0", "2", ("ln 2",)),
    ("e^(2x) - 3e^x + 2", "0", "2", ("0", "ln 2")),
    ("x e^(-x) - x/2", "0", "2", ("0", "ln 2")),
    ("x ln(x)", "1/2", "2", ("1",)),
    ("sqrt(x) - x/2", "0", "9", ("0", "4")),
    ("x - 2 - sqrt(x)", "0", "9", ("4",)),
    ("4/x + x - 5", "1/2", "6", ("1", "4")),
    ("2/(1 + x^2) - 1", "-2", "2", ("-1", "1")),
    ("x^2 - 2^(1/2)", "2", "3", ()),
    ("x^2 + 1", "-9", "9", ()),
    ("sin(x)^2", "0", "2pi", ("0", "pi", "2pi")),
    ("e^(-x) (x - 1)", "0", "2", ("1",)),
)


@pytest.mark.parametrize(("text", "lower", "upper", "zeros"), TABLE, ids=[row[0] for row in TABLE])
def test_zeros_on_an_interval(text: str, lower: str, upper: str, zeros: tuple[str, ...]) -> None:
    function = tree(text)
    found = zeros_from_to(function, X, tree(lower), tree(upper))
    assert [number(zero) for zero in found] == pytest.approx([number(tree(zero)) for zero in zeros])
    expected = to_sympy(function)
    for zero in found:
        assert sympy.simplify(expected.subs(to_sympy(X), to_sympy(zero))) == 0, plain(zero)


@pytest.mark.parametrize(
    ("text", "lower", "upper"), [row[:3] for row in TABLE], ids=[row[0] for row in TABLE]
)
def test_signs_are_those_of_the_values(text: str, lower: str, upper: str) -> None:
    function = tree(text)
    value = sympy.lambdify(to_sympy(X), to_sympy(function), "mpmath")
    signs = signs_between(function, X, tree(lower), tree(upper))
    ends = [number(tree(lower)), *map(number, signs.places), number(tree(upper))]
    for sign, start, end in zip(signs.signs, ends, ends[1:], strict=False):
        for share in (0.02, 0.3, 0.55, 0.98):
            assert mpmath.sign(value(start + share * (end - start))) in (sign, 0)
    merged = signs.merged()
    assert all(one != other for one, other in zip(merged.signs, merged.signs[1:], strict=False))
    assert len(merged.places) == len(merged.signs) - 1


@pytest.mark.parametrize(
    ("text", "lower", "upper"),
    [
        ("x^5 - x - 1", "0", "2"),  # no closed form with roots (Abel and Ruffini)
        ("cos(x) - x", "0", "2"),
        ("x^3 - 2", "0", "2"),
        ("x - x", "0", "2"),
        ("1 + cos(x)", "0", "4"),  # touches the axis at pi
        ("e^(x - 10^9) - 1 - 10^(-9)", "0", "2 * 10^9"),  # ends, and soon
    ],
)
def test_what_is_not_known_is_refused(text: str, lower: str, upper: str) -> None:
    with pytest.raises(ZerosUnknown):
        zeros_from_to(tree(text), X, tree(lower), tree(upper))


def test_a_factor_without_zeros_that_are_wanted_does_no_harm() -> None:
    function = tree("(x^3 - 2)(x - 5)")
    assert zeros_from_to(function, X, rational(2), rational(6)) == (rational(5),)


def test_zeros_on_the_whole_line_are_all_or_none() -> None:
    assert real_zeros(tree("1/x - x"), X) == (rational(-1), rational(1))
    assert real_zeros(tree("1/x + 1/x^2"), X) == (rational(-1),)  # 0 is a pole, not a zero
    assert real_zeros(tree("sqrt(x + 2) - x"), X) == (rational(2),)  # squaring adds -1
    with pytest.raises(ZerosUnknown):
        real_zeros(tree("sin(x)"), X)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.fractions(-6, 6, max_denominator=4), min_size=1, max_size=5))
def test_rational_zeros_of_products_come_back(roots: list[Fraction]) -> None:
    function = product(*(X - rational(root) for root in roots))
    assert real_zeros(function, X) == tuple(rational(root) for root in sorted(set(roots)))


@pytest.mark.parametrize(
    "text",
    ["3x - 1", "sqrt(4 - x^2)", "2 sqrt(x) + 1", "e^x - e^(-x)", "x/(x + 1)", "2 sin(x) - 1", "-3 e^(2x)"],
)
def test_squares_multiplied_out_are_squares(text: str) -> None:
    x: Symbol = X
    square = to_sympy(squared(tree(text), x))
    assert sympy.simplify(square - to_sympy(tree(text)) ** 2) == 0
