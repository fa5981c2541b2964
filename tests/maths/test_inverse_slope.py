"""The derivative of inverse functions of something longer: proved, and no fraction stands within another."""

from __future__ import annotations

import pytest

from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Quotient, Symbol
from qbank.maths.inverse_slope import inverse_slope
from qbank.maths.notation import plain
from qbank.maths.reading import read
from qbank.maths.verdict import Proved

X = Symbol("x")

#: simplified by hand
TABLE = [
    ("arctan(1/x)", "-1/(x^2 + 1)"),
    ("arccot(1/x)", "1/(x^2 + 1)"),
    ("arctan(2x/(1 - x^2))", "2/(x^2 + 1)"),
    ("arctan((1 + x)/(1 - x))", "1/(x^2 + 1)"),
    ("arctan((3x - x^3)/(1 - 3x^2))", "3/(x^2 + 1)"),
    ("arctan(x/(1 - 6x^2))", "(6x^2 + 1)/(36x^4 - 11x^2 + 1)"),
    ("arctan(3/(2x + 1))", "-3/(2x^2 + 2x + 5)"),
    ("arctan((1 - cos(x))/sin(x))", "1/2"),
    ("arctan(sec(x) + tan(x))", "1/2"),
    ("arctan(cos(x)/(1 + sin(x)))", "-1/2"),
    ("arctan(tan(3x))", "3"),
    ("arctan(sqrt((1 - x)/(1 + x)))", "-1/(2 sqrt(1 - x^2))"),
    ("arctan((sqrt(1 + x^2) - 1)/x)", "1/(2(1 + x^2))"),
    ("arcsin(x/sqrt(1 + x^2))", "1/(1 + x^2)"),
]


@pytest.mark.parametrize(("text", "slope"), TABLE)
def test_the_derivative(text: str, slope: str) -> None:
    tree = read(text).tree
    found = inverse_slope(tree, X)
    assert found is not None
    assert plain(found) == slope
    assert isinstance(decide_antiderivative(tree, found, X), Proved)
    assert sum(isinstance(node, Quotient) for node in found.walk()) < 2


@pytest.mark.parametrize(
    "text",
    [
        "arctan(x)",
        "arctan(x/2)",
        "arctan(a/x)",
        "arctan(1/sqrt(x))",
        "arcsin(sin(x))",
        "arcsin(2x/(1 + x^2))",
        "arcsin(sqrt(x))",
        "arcsin(1/x)",
        "1/x",
        "arctan(e^x/x)",
        "arctan(1/x^40)",
    ],
)
def test_others_are_not_told(text: str) -> None:
    assert inverse_slope(read(text).tree, X) is None
