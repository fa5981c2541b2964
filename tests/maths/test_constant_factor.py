"""Constant factors: split, multiplied, and written in front."""

from __future__ import annotations

from fractions import Fraction

import pytest

from qbank.maths.constant_factor import ONE, before_integral, in_front, number, over, split_constant, times
from qbank.maths.expression import PI, Integer, Integral, Symbol, sin
from qbank.maths.factors import factored
from qbank.maths.notation import plain
from qbank.maths.reading import read

X = Symbol("x")


@pytest.mark.parametrize(
    ("text", "constant", "moving"),
    [
        ("3x^2", "3", "x^2"),
        ("3 pi x^2/(a sqrt(2))", "3pi/(a sqrt(2))", "x^2"),
        ("-sin(x)/4", "-1/4", "sin x"),
        ("5", "5", "1"),
        ("0 x", "0", "1"),
    ],
)
def test_splitting(text: str, constant: str, moving: str) -> None:
    found = split_constant(read(text, variable=X).tree, X)
    assert tuple(plain(part.tree()) for part in found) == (constant, moving)


def test_multiplying() -> None:
    a = factored(Symbol("a") * 2)
    assert plain(times(a, a, number(Fraction(1, 8))).tree()) == "1/2 a^2"
    assert times(a, over(a)) == ONE
    assert times(a, number(0)).powers == ()


@pytest.mark.parametrize(
    ("constant", "body", "expected"),
    [
        ("2/3", "sin(x)", "2/3 sin x"),
        ("1/pi", "sin(x)", "(sin x)/pi"),
        ("-3/2", "1/(x + 1)", "-3/(2(x + 1))"),
        ("a/b", "1/x", "a/(b x)"),
        ("pi", "1", "pi"),
        ("0", "x", "0"),
    ],
)
def test_writing_in_front(constant: str, body: str, expected: str) -> None:
    parts = (read(text, variable=X).tree for text in (constant, body))
    assert plain(in_front(factored(next(parts)), next(parts))) == expected


def test_before_an_integral() -> None:
    integral = Integral(sin(X), X)
    assert before_integral(ONE, integral) == integral
    assert plain(before_integral(number(-1), integral)) == "-∫ sin x dx"
    assert plain(before_integral(factored(Integer(3) / (2 * PI)), integral)) == "(3/(2pi)) ∫ sin x dx"
