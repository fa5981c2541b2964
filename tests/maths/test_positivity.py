"""Positive by its looks: what is claimed is checked against SymPy's values."""

from __future__ import annotations

import math

import mpmath
import pytest
from hypothesis import given, settings

from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain
from qbank.maths.oracle import to_sympy
from qbank.maths.positivity import surely_positive, without_needless_modulus
from qbank.maths.reading import read
from tests.maths.strategies import expressions

X = Symbol("x")

POSITIVE = [
    "3", "pi", "e", "x^2 + 1", "2x^2 + 3", "x^2 + x + 1", "e^x", "exp(x)", "e^x + 1", "2^x", "cosh(x)", "sech(x)",
    "2 + sin(x)", "3 - 2 cos(x)", "sin(x) + cos(x) + 5/2", "sqrt(x) + 1", "sqrt(x^2 + 1)", "cbrt(x^2 + 1)",
    "|x| + 2", "(x^2 + 1)^3", "(x^2 + 1)^(1/2)", "e^x cosh(x)", "1/(x^2 + 1)", "3(x^2 + 1)", "(x^2 + 1)/2",
    "e^x + e^(-x)", "cosh(x) - 1/2", "x^2 e^x + 1",
]  # fmt: skip
UNSURE = [
    "x", "x + 1", "-1", "0", "x^2", "|x|", "x^2 - 1", "x^2 + 2x + 1", "-e^x", "1 + sin(x)", "1 + tan(x)", "ln(x)",
    "cbrt(x)", "x^3", "x^2 + x y + 1", "1 - e^x", "x/(x^2 + 1)", "e^x sin(x)", "x^2 + ln(x)", "x^(-2)", "a^x",
    "-x^2 - x - 1", "2 sin(x)", "-(x + 1)", "-sqrt(x)",
]  # fmt: skip


@pytest.mark.parametrize("text", POSITIVE)
def test_positive(text: str) -> None:
    assert surely_positive(read(text, variable=X).tree)


@pytest.mark.parametrize("text", UNSURE)
def test_not_sure(text: str) -> None:
    assert not surely_positive(read(text, variable=X).tree)


@given(expressions(size=6))
@settings(max_examples=100)
def test_never_wrong(tree: Expression) -> None:
    if not surely_positive(tree):
        return
    whole = to_sympy(tree)
    for value in (-2.3, -0.4, 0.7, 1.9):
        try:
            found = complex(whole.subs(dict.fromkeys(whole.free_symbols, value)).evalf())
        except (TypeError, ZeroDivisionError, OverflowError, mpmath.libmp.NoConvergence):
            continue
        if abs(found.imag) < 1e-12 and math.isfinite(found.real) and abs(found) < 1e300:
            assert found.real >= 0, plain(tree)


def test_the_modulus_goes_where_it_is_not_needed() -> None:
    tree = read("ln|x^2 + 1| + ln|x|", variable=X).tree
    assert plain(without_needless_modulus(tree)) == "ln(x^2 + 1) + ln|x|"
