"""The quick number system: its quotients have the values of the functions, and only what is equal is shown equal."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from flint import arb, fmpq
from hypothesis import assume, given, settings

from qbank.maths.balls import Balls, Blurred, precision, to_ball
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.exact.quotients import GENERATORS, Quotient
from qbank.maths.exact.shown import is_shown_equal
from qbank.maths.exact.unreduced import Finer, Unreduced
from qbank.maths.expression import Expression, Integer, Symbol, sqrt, sum_of
from qbank.maths.forward import NotSettled, Undefined, Walk
from qbank.maths.points import slope_side, value_side
from qbank.maths.reading import read
from qbank.maths.verdict import Proved
from tests.maths.smooth import smooth_expressions

x = Symbol("x")
POINT = Fraction(5, 7)


def walked(tree: Expression) -> tuple[Unreduced, Walk[Quotient]]:
    """The system and a walk that has the value of a tree."""
    units: dict[int, fmpq] = {}
    while True:
        system = Unreduced(units)
        walk = Walk(system, x, {})
        try:
            walk.value(tree)
            walk.slope(tree)
        except Finer as finer:
            units[finer.place] = finer.unit
        else:
            return system, walk


def value(polynomial: Any, generators: dict[int, Any]) -> Any:
    """The ball of a polynomial, from those of the generators."""
    total = arb(0)
    for powers, number in polynomial.terms():
        term = arb(number)
        for index, power in enumerate(powers):
            if power:
                term *= generators[index] ** int(power)
        total += term
    return total


def quotient_value(quotient: Quotient, generators: dict[int, Any]) -> Any:
    below = arb(1) if quotient.den is None else value(quotient.den, generators)
    return value(quotient.num, generators) / below


def generator_values(system: Unreduced) -> dict[int, Any]:
    """What each generator stands for, at the point."""
    found: dict[int, Any] = {}
    for kind, first, second, index, unit in system._known:
        if kind in ("letter", "pi"):
            found[index] = to_ball(POINT) if kind == "letter" else arb.pi()
            continue
        inner = value(first, found) * arb(unit)
        if kind == "root":
            odd = second % 2 and inner < 0
            found[index] = -((-inner).root(second)) if odd else inner.root(second)
            continue
        if second is not None:
            inner /= value(second, found)
        match kind:
            case "angle":
                found[index - 1], found[index] = inner.sin_cos()
            case "exponential":
                found[index] = inner.exp()
            case "logarithm":
                found[index] = abs(inner).log()
            case "arctan":
                found[index] = inner.atan()
            case "arcsin":
                found[index] = inner.asin()
            case "modulus":
                found[index] = abs(inner)
            case _:
                raise ValueError(kind)
    return found


@settings(max_examples=150)
@given(smooth_expressions())
def test_quotients_have_the_values_of_the_walk_in_balls(tree: Expression) -> None:
    with precision(200):
        try:
            balls = Walk(Balls({"x": to_ball(POINT)}), x, {})
            expected, slope = balls.value(tree), balls.slope(tree)
            system, walk = walked(tree)
        except (Undefined, Blurred, NotSettled):
            assume(False)
        generators = generator_values(system)
        assert quotient_value(walk.value(tree), generators).overlaps(expected)
        rate = walk.slope(tree)
        assert (rate is None) == (slope is None)
        if rate is not None:
            assert quotient_value(rate, generators).overlaps(slope)
        for index, _, relation in system._relations:
            assert value(relation, generators).contains(0), index


@pytest.mark.parametrize(
    ("left", "right"),
    [
        ("sin(arcsin x)", "x"),
        ("cos(arcsin(x/3))", "sqrt(9 - x^2)/3"),
        ("sin(2 arcsin x)", "2x sqrt(1 - x^2)"),
        ("cos(-3 arcsin x)", "sqrt(1 - x^2) (1 - 4x^2)"),
        ("tan(arctan(2x))", "2x"),
        ("sec(arctan(x/5))", "sqrt(x^2 + 25)/5"),
        ("sin(2 arctan x)", "2x/(1 + x^2)"),
        ("cos(4 arctan x)", "(x^4 - 6x^2 + 1)/(1 + x^2)^2"),
        ("1 + tan(arctan x)^2", "sec(arctan x)^2"),
        ("sin(arcsin(x^2 - 1))", "x^2 - 1"),
    ],
)
def test_sines_and_cosines_of_inverse_functions(left: str, right: str) -> None:
    """Abramowitz & Stegun 4.3.45 (relations between the inverse functions' values), 4.3.24 to 4.3.29; from memory."""
    assert shown(left, right)
    assert not shown(left, f"({right}) + 10^(-9)")
    assert not shown(left, f"-({right})")


def shown(left: str, right: str, *, slope: bool = False) -> bool:
    first, second = read(left, variable=x).tree, read(right, variable=x).tree
    return is_shown_equal(slope_side(first) if slope else value_side(first), value_side(second), x, {})


@pytest.mark.parametrize(
    ("answer", "integrand"),
    [
        ("(3x + 2)^5/15", "(3x + 2)^4"),
        ("x/2 - 1/12 sin 6x", "sin^2 3x"),
        ("5/8 sin x + 5/48 sin 3x + 1/80 sin 5x", "cos^5 x"),
        ("-1/4 cos 8x + cos 2x", "4 sin 3x cos 5x"),
        ("1/2 sec^2 x - ln|sec x|", "tan^3 x"),
        ("-ln|sec x - tan x|", "sec x"),
        ("9/8 arctan(e^(2x)/4)", "9/(e^(2x) + 16e^(-2x))"),
        ("3 arcsin((x + 3)/5)", "3/sqrt(16 - 6x - x^2)"),
        ("1/2 x sqrt(x^2 + 25) + 25/2 ln(x + sqrt(x^2 + 25))", "sqrt(x^2 + 25)"),
        ("3/4 (x + 1)^(4/3)", "(x + 1)^(1/3)"),
        ("x|x|/2", "|x|"),
        ("pi x + e^2 x + sqrt(8) x", "pi + e^2 + sqrt(8)"),
        ("sin(9/x)", "-9/x^2 cos(9/x)"),
    ],
)
def test_usual_identities_are_shown_and_near_ones_are_not(answer: str, integrand: str) -> None:
    assert shown(answer, integrand, slope=True)
    assert not shown(f"{answer} + x/10^9", integrand, slope=True)
    assert not shown(answer, f"({integrand}) (1 + 10^(-9))", slope=True)


def test_what_needs_signs_or_factors_is_not_shown_here_but_proved_by_normal_forms() -> None:
    assert not shown("sqrt(x^2)", "|x|")
    assert not shown("ln(x^2)", "2 ln|x|")
    assert not shown("sqrt(x^2)", "x")
    tree = read("x sqrt(x^2)/2", variable=x).tree
    assert isinstance(decide_antiderivative(tree, read("|x|", variable=x).tree, x), Proved)


def test_what_would_grow_too_large_is_left_alone() -> None:
    letters = sum_of(x, *map(Symbol, "abcd"), Integer(1))
    tower = sum_of(x, Integer(1))
    for _ in range(30):
        tower = tower**9
    number: Expression = Integer(7)
    for _ in range(30):
        number = number**9
    many = sum_of(*(sqrt(x + k) for k in range(GENERATORS + 1)))
    for tree in (sqrt(letters) ** 90, letters**60, tower, number * x, many):
        same = value_side(tree)
        assert is_shown_equal(same, value_side(tree + 1), x, {}) is False
    assert not is_shown_equal(value_side(1 / (x - x)), value_side(x), x, {})
