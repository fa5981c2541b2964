"""Openings: what leads on is known as such, and nothing that leads on is offered as a step that does not."""

from __future__ import annotations

import pytest

from qbank.maths.equation import Equation
from qbank.maths.expression import Differential, Expression, Symbol
from qbank.maths.notation import plain
from qbank.maths.reading import read
from qbank.techniques.opening import Pieces, by_parts_with, leads_on, let, opening_of
from qbank.techniques.other_openings import invalid_openings, unfit_openings, useless_openings
from qbank.techniques.planner import solve, solve_with

X, U, V = Symbol("x"), Symbol("u"), Symbol("v")


def tree(text: str) -> Expression:
    return read(text, variable=X).tree


def text(shown: Pieces) -> str:
    return "".join(piece if isinstance(piece, str) else plain(piece) for piece in shown)


@pytest.mark.parametrize(
    ("integrand", "opening"),
    [
        ("3x (x^2 + 4)^3", "Let u = x^2 + 4."),
        ("5x^2 ln(x)", "Integrate by parts with u = ln x and dv = x^2 dx."),
        ("sin(2x)^2", "Double angle: sine squared is half of one minus the cosine of twice the angle."),
    ],
)
def test_how_solutions_begin(integrand: str, opening: str) -> None:
    solution = solve(tree(integrand), X)
    assert solution is not None
    found = opening_of(solution)
    assert text(found) == opening
    assert leads_on(found, tree(integrand), X)


def test_a_recurrence_does_not_begin_by_parts() -> None:
    """The name of the integral and u are two lines with letters, too."""
    solution = solve_with("recurrence-formulae", tree("sin(x)^4"), X)
    assert solution is not None
    assert not text(opening_of(solution)).startswith("Integrate by parts with I_n")


@pytest.mark.parametrize(
    ("integrand", "part"),
    [
        ("3x (x^2 + 4)^3", "x^2"),
        ("sin(x)^3 cos(x)^2", "cos(x)"),
        # not what is taught first, but finished by an algebraic substitution
        ("sin(x)^3 cos(x)^2", "sin(x)"),
        ("tan(x)^3 sec(x)", "tan(x)"),
        ("x^3 sqrt(x^2 + 1)", "x^2"),
        # ways round that a student may well finish
        ("6/(7x + 5)^4", "(7x + 5)^4"),
        ("4/sqrt(40 - 6x - x^2)", "sqrt(40 - 6x - x^2)"),
        ("9e^(2x)/(6e^x + 7)", "e^(2x)"),
        ("e^(-4x) sinh(3x)", "e^(-4x)"),
        ("3 sinh(6x + 7)", "sinh(6x + 7)"),
        ("sech(x)^4", "sech(x)"),
        # roots that cancel, and a root in the new letter
        ("sqrt(1 + cos(2x))", "cos(2x)"),
        ("sqrt(1 - sin(x))", "sin(x)"),
        ("sqrt(tan(x))", "tan(x)"),
    ],
)
def test_substitutions_that_lead_on(integrand: str, part: str) -> None:
    step = let(Equation(U, tree(part)))
    assert leads_on(step, tree(integrand), X)
    assert step not in [one.shown for one in useless_openings(tree(integrand), X)]


def test_a_power_of_what_leads_on_leads_on() -> None:
    """With u = (x^2 + 4)^3 the integral is that of a root of u: a way round, and no dead end."""
    found = [text(one.shown) for one in useless_openings(tree("3x (x^2 + 4)^3"), X)]
    assert not [one for one in found if one.startswith("Let")]


def test_parts_that_lead_on_the_long_way_are_not_useless() -> None:
    step = by_parts_with(Equation(U, tree("e^x")), Equation(Differential(V), X * Differential(X)))
    assert leads_on(step, tree("x e^x"), X)
    assert step not in [one.shown for one in useless_openings(tree("x e^x"), X)]


def test_useless_steps_say_what_is_left() -> None:
    integrand = tree("x^2 e^(x^3)")
    found = {text(one.shown): text(one.why) for one in useless_openings(integrand, X)}
    told = found["Integrate by parts with u = x^2 and dv = e^(x^3) dx."]
    assert told == "This step is allowed, but no technique of the course integrates e^(x^3)."
    (left,) = (
        text(one.why)
        for one in useless_openings(tree("sin(3x) cos(5x)"), X)
        if text(one.shown) == "Let u = sin 3x."
    )
    assert "du = 3 cos 3x dx" in left
    assert "(u cos 5x)/(3 cos 3x)" in left


@pytest.mark.parametrize(
    "integrand", ["x^2 e^(x^3)", "x ln(x)", "(5x + 1)/(x^2 + x - 2)", "sin(x)^3 cos(x)^2"]
)
def test_misused_rules_are_wrong(integrand: str) -> None:
    names = set()
    for one in invalid_openings(tree(integrand), X):
        names.add(one.name)
        assert one.witness is not None
        assert one.judgement == "invalid"
    assert len(names) >= 2


def test_steps_of_other_integrals() -> None:
    """An identity has nothing to do where its function is missing; a numerator of lower degree is not divided."""
    squared = {text(one.shown): text(one.why) for one in unfit_openings(tree("sin(2x)^2"), X)}
    (told,) = (why for shown, why in squared.items() if shown.startswith("Double angle: cosine squared"))
    assert "cos^2 x" in told
    assert not [shown for shown in squared if shown.startswith("Double angle: sine squared")]
    shown = [text(one.shown) for one in unfit_openings(tree("(5x + 1)/(x^2 + x - 2)"), X)]
    assert any("divide first" in one for one in shown)
    assert not any("Factorise" in one for one in shown)
