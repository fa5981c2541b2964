"""Every row of the rules of differentiation, and the walk over the calculus of a line of working.

The oracle for values and derivatives of functions is mpmath (independent library, working with 40 digits).
"""

from __future__ import annotations

from fractions import Fraction

import mpmath
import pytest

from qbank.maths.balls import Balls, precision, to_ball
from qbank.maths.enclosing import derivative_at, enclose
from qbank.maths.exponents import rational_value
from qbank.maths.expression import (
    INFINITY,
    Apply,
    Decimal,
    Differential,
    Evaluated,
    Expression,
    Integer,
    Integral,
    Power,
    Symbol,
    cos,
    exp,
    ln,
    rational,
    sin,
    sqrt,
)
from qbank.maths.forward import NotSettled, Walk
from qbank.maths.function_rules import FUNCTION_RULES
from qbank.maths.functions import FUNCTIONS

x, u = Symbol("x"), Symbol("u")

#: our names in mpmath; arccot is the continuous branch here, so mpmath's acot is not its oracle
ORACLE = {
    "sin": mpmath.sin,
    "cos": mpmath.cos,
    "tan": mpmath.tan,
    "sec": mpmath.sec,
    "cosec": mpmath.csc,
    "cot": mpmath.cot,
    "arcsin": mpmath.asin,
    "arccos": mpmath.acos,
    "arctan": mpmath.atan,
    "arcsec": mpmath.asec,
    "arccosec": mpmath.acsc,
    "arccot": lambda v: mpmath.pi / 2 - mpmath.atan(v),
    "sinh": mpmath.sinh,
    "cosh": mpmath.cosh,
    "tanh": mpmath.tanh,
    "sech": mpmath.sech,
    "cosech": mpmath.csch,
    "coth": mpmath.coth,
    "arsinh": mpmath.asinh,
    "arcosh": mpmath.acosh,
    "artanh": mpmath.atanh,
    "arsech": mpmath.asech,
    "arcosech": mpmath.acsch,
    "arcoth": mpmath.acoth,
    "exp": mpmath.exp,
    "ln": mpmath.log,
    "abs": abs,
}
POINTS = [Fraction(n, 7) for n in (-25, -9, -5, -3, 2, 4, 6, 10, 24)]


def is_real(name: str, point: Fraction) -> bool:
    size = abs(point)
    return {
        "arcsin": size < 1,
        "arccos": size < 1,
        "arcsec": size > 1,
        "arccosec": size > 1,
        "arcosh": point > 1,
        "artanh": size < 1,
        "arsech": 0 < point < 1,
        "arcoth": size > 1,
        "ln": point > 0,
    }.get(name, True)


def close(text: str, value: object) -> bool:
    with mpmath.workdps(40):
        wanted = mpmath.mpf(str(mpmath.re(value)))
        return bool(abs(mpmath.mpf(text) - wanted) <= mpmath.mpf("1e-15") * (1 + abs(wanted)))


def test_every_function_has_a_rule() -> None:
    assert set(FUNCTION_RULES) == set(FUNCTIONS) == set(ORACLE)


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
@pytest.mark.parametrize("point", POINTS, ids=str)
def test_value_and_derivative_against_mpmath(name: str, point: Fraction) -> None:
    tree = Apply(name, x)
    value, slope = enclose(tree, at={x: point}), derivative_at(tree, x, {x: point})
    if not is_real(name, point):
        assert value is None
        assert slope is None
        return
    assert value is not None
    assert slope is not None
    with mpmath.workdps(40):
        place = mpmath.mpf(point.numerator) / point.denominator
        assert close(value.decimal, ORACLE[name](place))
        if name != "abs":
            assert close(slope.decimal, mpmath.diff(ORACLE[name], place))
        else:
            assert slope.decimal == ("1" if point > 0 else "-1")


def slope_at_one(tree: Expression, bindings: dict[Symbol, Expression] | None = None) -> object:
    with precision(64):
        return Walk(Balls({"x": to_ball(1), "dx": to_ball(3)}), x, bindings or {}).slope(tree)


@pytest.mark.parametrize(
    "tree", [Integer(3), Decimal("2.5"), u, sin(u), ln(Integer(2)), sqrt(u), u**2 / 3, -u]
)
def test_what_is_free_of_the_variable_has_no_slope(tree: Expression) -> None:
    assert slope_at_one(tree) is None


def test_a_zeroth_power_has_no_slope() -> None:
    assert slope_at_one(Power(x, Integer(0))) is None


def test_an_integral_differentiates_to_its_integrand() -> None:
    assert slope_at_one(Integral(x**2 + 1, x)) == 2


def test_an_integral_in_a_substituted_letter_obeys_the_chain_rule() -> None:
    # u = x^2 + 1 at x = 1: u^3 du/dx = 8 * 2
    assert slope_at_one(Integral(u**3, u), {u: x**2 + 1}) == 16


def test_a_differential_is_the_slope_times_that_of_the_variable() -> None:
    with precision(64):
        walk = Walk(Balls({"x": to_ball(1), "dx": to_ball(3)}), x, {u: x**2})
        assert walk.value(Differential(u)) == 6
        assert walk.value(Differential(x)) == 3
        assert walk.value(Differential(Symbol("k"))) == 0


def test_evaluated_between_limits() -> None:
    assert enclose(Evaluated(x**2, x, Integer(1), Integer(3)), at={}).decimal == "8"  # type: ignore[union-attr]
    # limits that depend on the outer letter: d/dx (x^2 - (2x)^2) at 1
    assert slope_at_one(Evaluated(u**2, u, 2 * x, x)) == -6
    assert slope_at_one(Evaluated(u**2, u, Integer(1), x)) == 2
    assert slope_at_one(Evaluated(u**2, u, Integer(1), Integer(2))) is None
    # a bound letter of the same name as the outer one
    assert slope_at_one(Evaluated(x**2, x, 2 * x, x + 1)) == 4 - 8


@pytest.mark.parametrize("tree", [Integral(x, x), INFINITY, Integral(x, x, Integer(0), Integer(1))])
def test_what_has_no_value_is_refused(tree: Expression) -> None:
    with pytest.raises(NotSettled):
        Walk(Balls({"x": to_ball(1)}), x, {}).value(tree)


@pytest.mark.parametrize("tree", [Differential(x), Integral(x, x, Integer(0), Integer(1))])
def test_what_has_no_slope_is_refused(tree: Expression) -> None:
    with pytest.raises(NotSettled):
        slope_at_one(tree)


@pytest.mark.parametrize(
    ("tree", "value"),
    [
        (rational(1, 2) + rational(1, 3), Fraction(5, 6)),
        (rational(1, 2) * rational(2, 3) * 3, Fraction(1)),
        (Decimal("0.50"), Fraction(1, 2)),
        (Power(rational(2, 3), Integer(-3 + 5)), Fraction(4, 9)),
        (Power(Integer(2), rational(-2)), Fraction(1, 4)),
        (Integer(1) / 0, None),
        (Power(Integer(2), rational(1, 2)), None),
        (Power(Integer(0), Integer(0)), None),
        (Power(Integer(3), Power(Integer(3), Integer(27))), None),
        (Integer(2**200), None),
        (x, None),
        (x + 1, None),
        (-x, None),
        (x / 2, None),
    ],
)
def test_rational_value(tree: Expression, value: Fraction | None) -> None:
    assert rational_value(tree) == value


def test_general_powers_need_a_positive_base() -> None:
    tree = Power(x, sqrt(Integer(2)))
    assert enclose(tree, at={x: Fraction(2)}, digits=10).decimal == "2.665144143"  # type: ignore[union-attr]
    assert enclose(tree, at={x: Fraction(-2)}) is None


def test_slopes_of_general_powers() -> None:
    at = {x: Fraction(2)}
    # d/dx x^x = x^x (ln x + 1); d/dx 2^x = 2^x ln 2; d/dx x^sqrt 2 = sqrt 2 x^(sqrt 2 - 1)
    for tree, derivative in (
        (Power(x, x), x**2 * (ln(x) + 1)),
        (Power(Integer(2), x), 4 * ln(Integer(2))),
        (Power(x, sqrt(Integer(2))), sqrt(Integer(2)) * Power(x, sqrt(Integer(2)) - 1)),
        (exp(cos(x)), -sin(x) * exp(cos(x))),
    ):
        left, right = derivative_at(tree, x, at), enclose(derivative, at=at)
        assert left is not None
        assert right is not None
        assert left.decimal == right.decimal
    assert derivative_at(Power(Integer(2), u), x, {x: Fraction(1), u: Fraction(2)}).decimal == "0"  # type: ignore[union-attr]
