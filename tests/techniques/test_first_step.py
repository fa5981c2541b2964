"""First steps: what a solution begins with, and which other integrals that would be a step towards."""

from __future__ import annotations

import pytest

from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import read
from qbank.techniques.first_step import FirstStep, first_step, fits, is_step_of
from qbank.techniques.planner import solve

X = Symbol("x")


def tree(text: str) -> Expression:
    return read(text, variable=X).tree


def step(text: str) -> FirstStep:
    solution = solve(tree(text), X)
    assert solution is not None
    return first_step(solution)


@pytest.mark.parametrize(
    ("integrand", "meaning"),
    [("5x (x^2 + 4)^3", "x^2 + 4"), ("sin(3x)^4 cos(3x)", "sin 3x"), ("tan(x) sec(x)^2", "tan x")],
)
def test_a_substitution_is_told_by_what_is_substituted(integrand: str, meaning: str) -> None:
    found = step(integrand)
    assert found.definition is not None
    assert found.definition.right == tree(meaning)
    assert found.sentence == ""
    assert is_step_of(found, tree(integrand), X)
    assert not is_step_of(found, tree("x e^(x^2)"), X)


def test_another_step_is_told_by_its_sentence() -> None:
    found = step("sin(2x)^3")
    assert found.definition is None
    assert "odd" in found.sentence


@pytest.mark.parametrize(
    ("of", "towards"),
    [
        # the same part, the same up to a number, and one that is found as a part only
        ("5x (x^2 + 4)^3", "x (x^2 + 4)^7"),
        ("5x (x^2 + 4)^3", "x (x^2 - 6)^3"),
        ("5x (x^2 + 4)^3", "7x e^(4x^2)"),
        ("x (2x^2 + 1)^3", "x (x^2 - 6)^3"),
        ("e^x (1 - e^x)^5", "e^x cos(e^x)"),
        ("sin(2x)^3", "5sin(4x + 1)^3"),
        ("sin(2x)^3", "sin(4x)^3 cos(4x)^2"),
        ("sin(x)^2", "3sin(4x)^2"),
        ("1/(x^2 + 2x + 5)", "3/(x^2 - 4x + 13)"),
    ],
)
def test_steps_that_fit_another_integral(of: str, towards: str) -> None:
    assert fits(step(of), tree(towards), X)


@pytest.mark.parametrize(
    ("of", "towards"),
    [
        ("5x (x^2 + 4)^3", "sin(3x)^4 cos(3x)"),
        ("sin(3x)^4 cos(3x)", "sin(5x)^4 cos(5x)"),
        ("tan(3x) sec(3x)^2", "x (x^2 + 1)^2"),
        ("sin(2x)^3", "cos(2x)^3"),
        ("sin(x)^2", "tan(x)^2"),
        ("1/(x^2 + 2x + 5)", "x (x^2 + 1)^2"),
    ],
)
def test_steps_that_do_not(of: str, towards: str) -> None:
    assert not fits(step(of), tree(towards), X)
    assert not fits(step(towards), tree(of), X)
