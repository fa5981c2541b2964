"""A letter that is introduced on a part of the line: its lines hold there, the answer everywhere."""

from __future__ import annotations

from fractions import Fraction

import pytest

from qbank.maths.domain import Domain
from qbank.maths.equation import Equation
from qbank.maths.expression import Symbol
from qbank.techniques.working import UnprovedLineError, Working
from tests.techniques.solving import X, tree

T = Symbol("t")
BEYOND_THREE = Domain(lower=Fraction(3))


def started(domain: Domain | None) -> Working:
    """`x = 3 sec t`, which makes sqrt(x^2 - 9) = 3 tan t only for x > 3 (OpenStax, Calculus Volume 2, section 3.3)."""
    working = Working("trigonometric-substitution", tree("1/(x^2 sqrt(x^2 - 9))"), X)
    equations = Equation(X, tree("3 sec(t)", T)), Equation(tree("sqrt(x^2 - 9)"), tree("3 tan(t)", T))
    working.let_be(T, tree("arccos(3/x)"), *equations, reason="For x > 3.", domain=domain)
    return working


def test_lines_with_the_letter_are_proved_on_its_interval() -> None:
    working = started(BEYOND_THREE)
    working.step(tree("1/9 sin(t)", T), "standard-integral", "Integrate.")
    working.step(tree("sqrt(x^2 - 9)/(9x)"), "substitute-back", "Put the variable back.")
    assert [line.domain for line in working.finish().lines] == [BEYOND_THREE, BEYOND_THREE, None]


def test_on_the_whole_line_they_are_wrong() -> None:
    with pytest.raises(UnprovedLineError):
        started(None)


def test_an_answer_for_one_side_only_is_none() -> None:
    working = Working("trigonometric-substitution", tree("1/(x sqrt(x^2 - 9))"), X)
    working.let_be(
        T, tree("arccos(3/x)"), Equation(X, tree("3 sec(t)", T)), reason="For x > 3.", domain=BEYOND_THREE
    )
    working.step(tree("1/3 t", T), "standard-integral", "Integrate.")
    with pytest.raises(UnprovedLineError):
        working.step(tree("1/3 arccos(3/x)"), "substitute-back", "Put the variable back.")
