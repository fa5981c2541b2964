"""The form for comparing products up to a constant."""

from __future__ import annotations

import pytest

from qbank.maths.expression import Symbol
from qbank.maths.reading import read
from qbank.techniques.substituting.canonical import canonical, ordered, sums_divided

X = Symbol("x")


def form(text: str) -> dict[str, str]:
    seen = sums_divided(canonical(ordered(read(text, variable=X).tree), X), X)
    return {repr(base): str(n) for base, n in seen.powers if X in base.symbols()}


SAME = [
    ("1 + x", "3x + 3"),
    ("4x^3 - 4x", "x(x^2 - 1)"),
    ("(2 - x)^3", "(x - 2)^3"),
    ("tan(x)^2", "sin(x)^2/cos(x)^2"),
    ("sec(x)^2", "1/cos(x)^2"),
    ("tanh(x) cosh(x)", "sinh(x)"),
    ("e^(2x)", "(e^x)^2"),
    ("e^(-x)", "1/exp(x)"),
    ("4^x/4^(3x)", "4^(-2x)"),
    ("cos(x) - sin(x)", "2 sin(x) - 2 cos(x)"),
    ("1 + 1/x", "(x + 1)/x"),
    ("sqrt(x) + x", "sqrt(x)(1 + sqrt(x))"),
    ("2e^x - 2", "1 - e^x"),
    ("sin(1 + x)", "sin(x + 1)"),
    ("x - x + 3x^2", "x^2"),
]


@pytest.mark.parametrize(("one", "other"), SAME)
def test_the_same_up_to_a_constant(one: str, other: str) -> None:
    assert form(one) == form(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("x + 1", "x + 2"),
        ("tan(x)", "tan(2x)"),
        ("sqrt(x + 1)", "x + 1"),
        ("e^x", "2^x"),
        ("sin(x)", "sinh(x)"),
    ],
)
def test_different(one: str, other: str) -> None:
    assert form(one) != form(other)


def test_only_wanted_sums_are_touched() -> None:
    seen = canonical(read("1/(4 + 9x^2)", variable=X).tree, X)
    assert sums_divided(seen, X, frozenset({X})) == seen
