"""The derivative of the inverse tangent of a fraction: proved, and no fraction stands within another."""

from __future__ import annotations

import pytest

from qbank.maths.arctan_slope import arctan_slope
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Quotient, Symbol
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
]


@pytest.mark.parametrize(("text", "slope"), TABLE)
def test_the_derivative(text: str, slope: str) -> None:
    tree = read(text).tree
    found = arctan_slope(tree, X)
    assert found is not None
    assert plain(found) == slope
    assert isinstance(decide_antiderivative(tree, found, X), Proved)
    assert sum(isinstance(node, Quotient) for node in found.walk()) == 1


@pytest.mark.parametrize(
    "text",
    [
        "arctan(x)",
        "arctan(x/2)",
        "arctan(a/x)",
        "arctan(1/sqrt(x))",
        "arcsin(1/x)",
        "1/x",
        "arctan(e^x/x)",
        "arctan(1/x^40)",
    ],
)
def test_others_are_not_told(text: str) -> None:
    assert arctan_slope(read(text).tree, X) is None
