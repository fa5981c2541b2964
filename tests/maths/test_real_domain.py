"""What an answer asks for: whatever is said to ask for no more has a value, in balls, wherever the other side has."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given, settings

from qbank.maths.balls import Balls, Blurred, precision, to_ball
from qbank.maths.expression import Expression, Symbol
from qbank.maths.forward import NotSettled, Undefined, Walk
from qbank.maths.reading import read
from qbank.maths.real_domain import asks_no_more
from tests.maths.smooth import smooth_expressions

x = Symbol("x")
POINTS = [Fraction(n, 101) for n in (-1013, -305, -171, -87, -33, 29, 58, 95, 147, 333, 1205)]


def has_value(tree: Expression, point: Fraction) -> bool | None:
    """Whether a tree has a value at a point; None where that cannot be told."""
    with precision(200):
        try:
            return bool(Walk(Balls({"x": to_ball(point)}), x, {}).value(tree).is_finite())
        except Undefined:
            return False
        except (Blurred, NotSettled):
            return None


@settings(max_examples=400)
@given(smooth_expressions(), smooth_expressions())
def test_what_asks_for_no_more_has_a_value_wherever_the_other_has(
    left: Expression, right: Expression
) -> None:
    assume(asks_no_more(left, right))
    # one that is undefined everywhere divides by zero
    assume(any(has_value(left, point) for point in POINTS))
    for point in POINTS:
        if has_value(right, point):
            assert has_value(left, point) is not False, point


@pytest.mark.parametrize(
    ("left", "right"),
    [
        ("x ln x - x", "ln x"),
        ("x^3/3 ln x - x^3/9", "x^2 ln x"),
        ("1/3 (2x + 1)^(3/2)", "sqrt(1 + 2x)"),
        ("ln|x + sqrt(x^2 - 4)|", "1/sqrt(x^2 - 4)"),
        ("ln|x + sqrt(x^2 - 2^2)|", "1/sqrt(x^2 - 4)"),
        ("arcsin((x - 5)/5)", "1/sqrt(-x^2 + 10x)"),
        ("x arcsin x + sqrt(1 - x^2)", "arcsin x"),
        ("1/3 arcsec(x/3)", "1/(|x| sqrt(x^2 - 9))"),
        ("1/2 ln(x^2 + 1)", "x/(x^2 + 1)"),
        ("ln(sqrt(x + 1) + 1)", "1/sqrt(x + 1)"),
        ("arctan(x/sqrt(2))", "1/(x^2 + 2)"),
        ("2^x/ln 2", "2^x"),
        ("3/4 x^(4/3)", "x^(1/3)"),
        ("x ln|x|", "1"),
        ("x|x|/2", "|x|"),
    ],
)
def test_usual_answers_ask_for_no_more_than_their_integrands(left: str, right: str) -> None:
    assert asks_no_more(read(left).tree, read(right).tree)


@pytest.mark.parametrize(
    ("left", "right"),
    [
        ("ln x", "1/x"),
        ("arcsin x", "1/(1 - x^2)"),
        ("sqrt(x)", "x"),
        ("sqrt(x - 1)", "sqrt(x)"),
        ("x^x", "x"),
        # |x| in disguise, with which a denominator may be zero on a half of the line
        ("1/(sqrt(x^2) - x)", "x"),
        ("1/(|x| - x)", "x"),
        ("1/((x^4)^(1/4) - x)", "x"),
    ],
)
def test_others_are_not_told(left: str, right: str) -> None:
    assert not asks_no_more(read(left).tree, read(right).tree)
