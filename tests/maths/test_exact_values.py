"""Exact values: what a teacher writes, of the same number, and stable."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings

from qbank.maths.deciding import enclose, exact_value
from qbank.maths.expression import PI, Apply, Expression, Integer, Symbol, cos, ln, rational
from qbank.maths.forward import Undefined
from qbank.maths.notation import plain
from qbank.maths.reading import read
from tests.maths.smooth import constants

WRITTEN = [
    # usual angles (any table of exact values)
    ("sin(pi/3)", "sqrt(3)/2"),
    ("cos(pi/4)", "sqrt(2)/2"),
    ("tan(pi/3)", "sqrt(3)"),
    ("tan(pi/8)", "sqrt(2) - 1"),
    ("sin(pi/12)", "sqrt(6)/4 - sqrt(2)/4"),
    ("cos(7pi/6)", "-sqrt(3)/2"),
    ("sec(pi/5)", "sqrt(5) - 1"),
    ("sin(-25pi/6)", "-1/2"),
    ("arctan 1", "pi/4"),
    ("arctan(-sqrt(3))", "-pi/3"),
    ("arcsin(1/2)", "pi/6"),
    ("arccos(-1/2)", "2pi/3"),
    ("arcsec 2", "pi/3"),
    ("arctan(1/sqrt(3))", "pi/6"),
    ("arcsin(sqrt(2)/2)", "pi/4"),
    ("arctan(sqrt(2) - 1)", "pi/8"),
    # logarithms and powers
    ("ln 8", "3 ln 2"),
    ("ln(1/2)", "-ln 2"),
    ("ln 3 - ln 2", "ln(3/2)"),
    ("ln 2 - ln 3", "-ln(3/2)"),
    ("ln(5)/2 - ln(2)/2", "1/2 ln(5/2)"),
    ("ln 6", "ln 6"),
    ("1/2 ln 4", "ln 2"),
    ("ln sqrt(3)", "1/2 ln 3"),
    ("ln(e^3)", "3"),
    ("e^(ln 5)", "5"),
    ("e^(2 ln 3)", "9"),
    ("ln|cos(pi/3)|", "-ln 2"),
    ("ln(sqrt(2) - 1)", "-ln(1 + sqrt(2))"),
    ("arsinh 1", "ln(1 + sqrt(2))"),
    ("cosh(ln 2)", "5/4"),
    ("8^(2/3)", "4"),
    ("(-8)^(1/3)", "-2"),
    ("2^(1/3) * 4^(1/3)", "2"),
    # roots
    ("sqrt(12)", "2 sqrt(3)"),
    ("1/sqrt(2)", "sqrt(2)/2"),
    ("1/(1 + sqrt(2))", "sqrt(2) - 1"),
    ("sqrt(2) sqrt(3)", "sqrt(6)"),
    ("sqrt(5 + 2 sqrt(6))", "sqrt(2) + sqrt(3)"),
    ("|1 - sqrt(2)|", "sqrt(2) - 1"),
    ("(2/3)^(3/2)", "2 sqrt(6)/9"),
    ("2 + sqrt(3)", "2 + sqrt(3)"),
    # values of definite integrals
    ("2/3*4^(3/2) - 2/3", "14/3"),
    ("arctan(sqrt(3)) - arctan(1)", "pi/12"),
    ("-ln|cos(pi/3)| + ln|cos 0|", "ln 2"),
    ("pi/6 + sqrt(3)/8", "pi/6 + sqrt(3)/8"),
    ("1/2 ln 5 + arctan 2", "arctan 2 + 1/2 ln 5"),
    ("2 - sqrt(2)", "2 - sqrt(2)"),
    ("e^2/4 + 1/4", "e^2 / 4 + 1/4"),
    ("pi/4 - 1/2", "pi/4 - 1/2"),
    ("1 - pi/4", "1 - pi/4"),
    ("e - 1", "e - 1"),
    ("1 - e^(-2)", "1 - e^(-2)"),
    ("e^(1/2) - 1", "e^(1/2) - 1"),
    ("sin(2)/2", "(sin 2)/2"),
    ("cos(1) - 1", "cos 1 - 1"),
    ("sin(1)^2 + cos(1)^2", "1"),
    ("pi/4 ln 2", "(pi/4) ln 2"),
    ("arctan 2", "arctan 2"),
    ("1/pi", "1/pi"),
    ("1/(1 + e)", "1/(e + 1)"),
    ("pi^2/12", "pi^2 / 12"),
    ("cos(pi/7)", "cos(pi/7)"),
    ("0", "0"),
    ("0.25", "1/4"),
]


@pytest.mark.parametrize(("text", "written"), WRITTEN)
def test_written_as_a_teacher_writes(text: str, written: str) -> None:
    assert plain(exact_value(read(text).tree)) == written


@pytest.mark.parametrize("text", [text for text, _ in WRITTEN])
def test_the_value_is_the_same_and_stays(text: str) -> None:
    tree = read(text).tree
    exact = exact_value(tree)
    assert exact_value(exact) == exact
    left, right = enclose(tree, at={}, digits=30), enclose(exact, at={}, digits=30)
    assert left is not None
    assert right is not None
    assert left.decimal == right.decimal


@settings(max_examples=80)
@given(constants())
def test_any_constant_keeps_its_value(node: Expression) -> None:
    before = enclose(node, at={}, digits=20)
    assume(before is not None)
    assert before is not None
    after = enclose(exact_value(node), at={}, digits=20)
    assert after is not None
    assert after.lower <= before.upper
    assert before.lower <= after.upper


def test_letters_may_stay() -> None:
    a = Symbol("a")
    assert plain(exact_value(read("a^2 + a sin(pi/6) + a^2").tree)) in ("2a^2 + a/2", "2 a^2 + a/2")
    # the sign of a letter is not known: sqrt(a^2) has no plain form without a sign
    assert exact_value(Apply("abs", a)) == Apply("abs", a)
    assert plain(exact_value(ln(Apply("abs", a) * 2))) == "ln|a| + ln 2"


def test_no_real_value() -> None:
    with pytest.raises(Undefined):
        exact_value(ln(rational(-1)))
    with pytest.raises(Undefined):
        exact_value(Integer(1) / 0)


def test_too_hard_stays_as_it_was() -> None:
    hard = cos(PI / 7) ** 90000
    assert exact_value(hard) == hard
