"""The exact system and the balls speak of the same functions: each generator is evaluated at a point and compared.

This is the law that a proof rests on: wherever an expression is real, its normal form has the same value, and so has
the normal form of its derivative.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from flint import arb
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.balls import Balls, Blurred, precision, to_ball
from qbank.maths.clock import Deadline
from qbank.maths.exact.field import Element, Field, Generator, Polynomial
from qbank.maths.exact.normal_form import in_exact_system
from qbank.maths.expression import Expression, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled, Undefined
from tests.maths.smooth import smooth_expressions

x = Symbol("x")
POINTS = (Fraction(5, 7), Fraction(-9, 7), Fraction(23, 11), Fraction(-1, 13), Fraction(37, 7))


class AtPoint:
    """Values of normal forms at a point, from the meanings of their generators."""

    def __init__(self, field: Field, place: arb) -> None:
        self.field = field
        self.place = place
        self.known: dict[int, arb] = {}

    def quotient(self, part: Element) -> arb:
        return self.polynomial(part.num) / self.polynomial(part.den)

    def polynomial(self, part: Polynomial) -> arb:
        total = arb(0)
        for powers, number in part.terms():
            term = arb(number)
            for index, power in enumerate(powers):
                if power:
                    term *= self.generator(self.field.generator_at(index)) ** power
            total += term
        return total

    def generator(self, g: Generator) -> arb:
        if g.index not in self.known:
            self.known[g.index] = self.value(g)
        return self.known[g.index]

    def value(self, g: Generator) -> Any:
        unit = arb(g.unit.numerator) / g.unit.denominator
        if g.kind in ("letter", "pi"):
            return self.place if g.kind == "letter" else arb.pi()
        if g.kind in ("sign", "root", "logarithm"):
            inner = self.polynomial(g.meaning)
            return {"sign": inner.sgn(), "root": abs(inner) ** unit, "logarithm": abs(inner).log()}[g.kind]
        inner = self.quotient(g.meaning)
        return {
            "exponential": (inner * unit).exp(),
            "half tangent": (inner * unit / 2).tan(),
            "arctan": inner.atan(),
            "arcsin": inner.asin(),
        }[g.kind]


def at_point(element: Element, place: arb) -> arb:
    return AtPoint(element.field, place).quotient(element)


def check(node: Expression, place: Fraction) -> None:
    with precision(200):
        point = Walk(Balls({"x": to_ball(place)}), x, {})
        try:
            value, slope = point.value(node), point.slope(node)
        except (Undefined, Blurred):
            return

        def ask(walk: Walk[Element]) -> None:
            exact = walk.value(node)
            assert at_point(exact, to_ball(place)).overlaps(value), (node, place)
            rate = walk.slope(node)
            assert (rate is None) == (slope is None)
            if rate is not None and slope is not None:
                assert at_point(rate, to_ball(place)).overlaps(slope), (node, place)

        try:
            in_exact_system(ask, x, {}, seconds=20)
        except (Undefined, NotSettled):
            return


@settings(max_examples=100)
@given(smooth_expressions(), st.sampled_from(POINTS))
def test_values_and_slopes(node: Expression, place: Fraction) -> None:
    check(node, place)


def test_the_law_can_fail() -> None:
    """A wrong normal form is noticed: x + 1 is not x."""

    def ask(walk: Walk[Element]) -> bool:
        return bool(at_point(walk.value(x + 1), arb(2)).overlaps(arb(2)))

    assert not in_exact_system(ask, x, {})
    assert at_point(Field(2, Deadline(60)).number(3), arb(0)) == 3
