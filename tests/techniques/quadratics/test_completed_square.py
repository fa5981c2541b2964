"""Completing the square: the completed form is the quadratic again, and written as a teacher writes it."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from qbank.maths.deciding import decide_equal
from qbank.maths.expression import Expression, Quotient, Root, Symbol, product
from qbank.maths.notation import plain
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.reading import read
from qbank.maths.verdict import Proved
from qbank.techniques.quadratics.completed_square import CompletedSquare, complete_square, primitive

X = Symbol("x")
fractions = st.builds(Fraction, st.integers(-12, 12), st.integers(1, 6))


def completed(text: str) -> CompletedSquare:
    coefficients = as_polynomial(read(text, variable=X).tree, X)
    assert coefficients is not None
    square = complete_square(coefficients, X)
    assert square is not None
    return square


@pytest.mark.parametrize(
    ("quadratic", "written", "ratio"),
    [
        ("x^2+4", "x^2 + 2^2", "x/2"),
        ("x^2+1", "x^2 + 1", "x"),
        ("x^2+4x+13", "(x + 2)^2 + 3^2", "(x + 2)/3"),
        ("x^2+x+1", "(x + 1/2)^2 + (sqrt(3)/2)^2", "(2x + 1)/sqrt(3)"),
        ("2x^2+8", "2(x^2 + 2^2)", "x/2"),
        ("4x^2+9", "(2x)^2 + 3^2", "2x/3"),
        ("4x^2+4x+10", "(2x + 1)^2 + 3^2", "(2x + 1)/3"),
        ("4x^2+8", "4(x^2 + (sqrt(2))^2)", "x/sqrt(2)"),
        ("3x^2+2", "3(x^2 + (sqrt(6)/3)^2)", "(sqrt(6) x)/2"),
        ("x^2+1/36", "x^2 + (1/6)^2", "6x"),
        ("x^2-2", "x^2 - (sqrt(2))^2", "x/sqrt(2)"),
        ("5+4x-x^2", "3^2 - (x - 2)^2", "(x - 2)/3"),
        ("8-2x^2", "2(2^2 - x^2)", "x/2"),
        ("-x^2-1", "-x^2 - 1", "x"),
    ],
)
def test_written(quadratic: str, written: str, ratio: str) -> None:
    square = completed(quadratic)
    squeezed = [plain(tree).replace(" ", "") for tree in (square.tree, square.ratio)]
    assert squeezed == [written.replace(" ", ""), ratio.replace(" ", "")]


def test_not_for_perfect_squares_and_large_numbers() -> None:
    one = Fraction(1)
    assert complete_square((one, 2 * one, one), X) is None
    assert complete_square((Fraction(10**15 + 37), 0 * one, one), X) is None


@settings(max_examples=30)
@given(fractions, fractions, fractions.filter(bool))
def test_the_quadratic_comes_back(c: Fraction, b: Fraction, a: Fraction) -> None:
    assume(b * b != 4 * a * c)
    square = complete_square((c, b, a), X)
    assert square is not None
    same = square.factor * (square.scale**2), 2 * square.factor * square.scale * square.shift
    assert (*same, square.factor * (square.shift**2 + square.number)) == (a, b, c)
    assert_equal(square.tree, polynomial_tree((c, b, a), X))
    assert_equal(square.ratio, Quotient(square.inside, square.root.tree()))
    assert_equal(square.untidy_ratio, square.ratio)
    below, above = square.bracketed
    clean = Quotient(product(square.inside - square.root.tree()), square.inside + square.root.tree())
    assert_equal(Quotient(below, above), clean)


def assert_equal(left: Expression, right: Expression) -> None:
    verdict = decide_equal(left, right, X, budget=20.0)
    assert isinstance(verdict, Proved), (plain(left), plain(right), verdict)


@given(fractions, fractions.filter(bool))
def test_primitive(constant: Fraction, slope: Fraction) -> None:
    content, line = primitive(constant, slope)
    assert content > 0
    assert (content * line[0], content * line[1]) == (constant, slope)


def test_brackets_have_whole_numbers() -> None:
    below, above = completed("x^2+x-1").bracketed
    assert [plain(tree) for tree in (below, above)] == ["2x + 1 - sqrt(5)", "2x + 1 + sqrt(5)"]
    assert not any(isinstance(node, Root) for node in completed("x^2-4").bracketed[0].walk())
