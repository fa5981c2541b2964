"""A product seen as a number times powers."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from qbank.maths.deciding import decide_equal
from qbank.maths.expression import (
    E,
    Expression,
    Integer,
    Quotient,
    Root,
    Symbol,
    cos,
    exp,
    rational,
    sin,
    sqrt,
)
from qbank.maths.factors import factored, power_tree
from qbank.maths.verdict import Proved

x = Symbol("x")


def test_flattened() -> None:
    seen = factored(-3 * sin(x) ** 2 * cos(x) / sqrt(x))
    assert seen.coefficient == -3
    assert seen.powers == ((sin(x), Fraction(2)), (cos(x), Fraction(1)), (x, Fraction(-1, 2)))
    assert seen.without(x).powers == ((sin(x), Fraction(2)), (cos(x), Fraction(1)))


@pytest.mark.parametrize(
    ("tree", "coefficient", "powers"),
    [
        (sin(x) * sin(x) ** 2, 1, ((sin(x), 3),)),
        (sin(x) / sin(x), 1, ()),
        ((-x) ** 3, -1, ((x, 3),)),
        ((-x) ** 2, 1, ((x, 2),)),
        ((2 * x) ** 2, 4, ((x, 2),)),
        ((2 / x) ** -1, Fraction(1, 2), ((x, 1),)),
        (0 * x, 0, ()),
        (exp(2 * x) * 3, 3, ((exp(2 * x), 1),)),
        (E**2 * x, 1, ((E**2, 1), (x, 1))),
        (sqrt(x) ** 3, 1, ((x, Fraction(3, 2)),)),
        (Root(x, 3) / x, 1, ((x, Fraction(-2, 3)),)),
        (sqrt(x**2), 1, ((x**2, Fraction(1, 2)),)),
        (sqrt(x) ** rational(1, 2), 1, ((sqrt(x), Fraction(1, 2)),)),
        # both factors may be negative, where neither has a root
        (((x - 1) * (x + 3)) ** rational(-1, 2), 1, (((x - 1) * (x + 3), Fraction(-1, 2)),)),
        (((x - 1) / (x + 3)) ** rational(3, 2), 1, (((x - 1) / (x + 3), Fraction(3, 2)),)),
        (2 / ((x - 1) * (x + 3)) ** rational(1, 2), 2, (((x - 1) * (x + 3), Fraction(-1, 2)),)),
        ((-x) ** rational(1, 2), 1, ((-x, Fraction(1, 2)),)),
        (Integer(2) ** rational(1, 2) * x, 1, ((Integer(2), Fraction(1, 2)), (x, 1))),
    ],
)
def test_table(tree: Expression, coefficient: Fraction, powers: object) -> None:
    seen = factored(tree)
    assert (seen.coefficient, seen.powers) == (coefficient, powers)


def test_written_again() -> None:
    assert factored(3 * sin(x) / (2 * x**2)).tree() == Quotient(3 * sin(x), 2 * x**2)
    assert factored(sqrt(x) * -1).tree() == -sqrt(x)
    assert power_tree(x, Fraction(-3, 2)) == Quotient(Integer(1), x ** rational(3, 2))
    assert factored(sin(x) ** 2).exponent(cos(x)) == 0


@pytest.mark.parametrize("shape", [lambda u, v: u * v, lambda u, v: u / v, lambda u, v: -u / v])
@pytest.mark.parametrize("exponent", [rational(n, d) for d in (1, 2, 3, 4) for n in (-3, -1, 1, 2, 5)])
def test_the_same_function(
    shape: Callable[[Expression, Expression], Expression], exponent: Expression
) -> None:
    tree = shape(x - 1, x + 3) ** exponent
    verdict = decide_equal(factored(tree).tree(), tree, x)
    assert isinstance(verdict, Proved)
    assert not verdict.undefined_at
