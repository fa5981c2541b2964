"""Roots with the square of a letter, against handbooks for positive letters and, for negative ones, by proof."""

from __future__ import annotations

from fractions import Fraction

import pytest

from qbank.maths.deciding import decide_antiderivative, decide_same_up_to_constant
from qbank.maths.expression import Symbol, rational
from qbank.maths.verdict import Proved
from qbank.techniques import technique
from tests.techniques.solving import X, board, check_every_slip_occurs, check_solved, solved, tree

TECHNIQUE = technique("scaled-letter")

#: as in any handbook for a > 0; here a may be negative
TABLE = [
    ("sqrt(a^2 - x^2)", "1/2 a^2 arcsin(x/(abs(a))) + 1/2 x sqrt(a^2 - x^2)"),
    ("a^2/(a^2 + x^2)^(3/2)", "x/sqrt(a^2 + x^2)"),
    ("1/sqrt(a^2 - x^2)", "arcsin(x/(abs(a)))"),
    ("sqrt(a^2 + x^2)", "1/2 x sqrt(a^2 + x^2) + 1/2 a^2 ln(x + sqrt(a^2 + x^2))"),
    ("1/(x^2 sqrt(a^2 + x^2))", "-sqrt(a^2 + x^2)/(a^2 x)"),
    ("x^2 sqrt(a^2 - x^2)", None),
    ("1/(x sqrt(x^2 - a^2))", None),
    ("sqrt(a^2 - x^2)/x", None),
    ("a b x^3 (a^2 + 4x^2)^(1/2)", None),
]

#: S. P. Thompson, Calculus Made Easy (1914): exercise XIX.1 and the table of standard forms, for a > 0
HANDBOOK = [
    ("sqrt(a^2 - x^2)", "1/2 x sqrt(a^2 - x^2) + 1/2 a^2 arcsin(x/a)"),
    ("1/sqrt(a^2 + x^2)", "ln(x + sqrt(a^2 + x^2))"),
    ("a^2/(a^2 + x^2)^(3/2)", "x/sqrt(a^2 + x^2)"),
]

DECLINED = [
    "sqrt(a - x^2)",
    "sqrt(a^2 - b x^2)",
    "sqrt(4 - x^2)",
    "sqrt(a^2 - x)",
    "sqrt(a^2 + x^4)",
    "sin(x)/(a^2 + x^2)",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1)


@pytest.mark.parametrize("value", [Fraction(3), Fraction(-2)])
@pytest.mark.parametrize("text", [text for text, _ in TABLE])
def test_right_for_letters_of_both_signs(text: str, value: Fraction) -> None:
    """The letter is put in, and the answer proved anew."""
    put = {Symbol("a"): rational(value), Symbol("b"): rational(Fraction(5))}
    answer = solved(TECHNIQUE, text).antiderivative.substitute(put)
    assert isinstance(decide_antiderivative(answer, tree(text).substitute(put), X), Proved)


@pytest.mark.parametrize(("text", "published"), HANDBOOK)
def test_handbook(text: str, published: str) -> None:
    answer = solved(TECHNIQUE, text).antiderivative
    positive = frozenset({Symbol("a")})
    assert isinstance(decide_antiderivative(tree(published), tree(text), X, positive=positive), Proved)
    put = {Symbol("a"): rational(Fraction(3))}
    assert isinstance(
        decide_same_up_to_constant(answer.substitute(put), tree(published).substitute(put), X), Proved
    )


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    lines = board(solved(TECHNIQUE, "a^2/(a^2 + x^2)^(3/2)"))
    assert lines[1:3] == ["s = x/(abs(a)); x = abs(a) s; dx = abs(a) ds", "∫ 1/(s^2 + 1)^(3/2) ds"]
    assert lines[-2:] == ["s/sqrt(s^2 + 1) + C", "x/sqrt(a^2 + x^2) + C"]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))
