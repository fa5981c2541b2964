"""Derivatives as trees: what is written, and that it is right (against deciding and against SymPy)."""

from __future__ import annotations

import math

import pytest
import sympy
from hypothesis import given, settings

from qbank.maths import derivative as module
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.derivative import arranged, derivative
from qbank.maths.expression import (
    PI,
    Apply,
    Differential,
    Evaluated,
    Expression,
    Integer,
    Integral,
    Limit,
    Symbol,
    cos,
    sin,
)
from qbank.maths.functions import FUNCTIONS
from qbank.maths.notation import plain
from qbank.maths.reading import read
from qbank.maths.verdict import Proved, Refuted
from tests.maths.strategies import expressions

X = Symbol("x")

#: what a teacher writes for du; read by hand
WRITTEN = [
    ("7", "0"),
    ("a", "0"),
    ("x^3 - 3x + 1", "3x^2 - 3"),
    ("3 - x", "-1"),
    ("a x^2 + b x", "2a x + b"),
    ("(x^2 + 1)^3", "6x (x^2 + 1)^2"),
    ("sin^4 x", "4 sin^3 x cos x"),
    ("x e^(x^2)", "e^(x^2) + 2x^2 e^(x^2)"),
    ("sqrt(x^2 + 1)", "x/sqrt(x^2 + 1)"),
    ("1/x^3", "-3/x^4"),
    ("ln(x)/x", "(1 - ln x)/x^2"),
    ("(x + 1)/(x - 1)", "-2/(x - 1)^2"),
    ("x/x", "0"),
    ("(x + 1)/4", "1/4"),
    ("ln|cos x|", "-(sin x)/(cos x)"),
    ("2^x", "(ln 2) * 2^x"),
    ("x^x", "x^x (ln x + 1)"),
    ("x^0", "0"),
    ("2^3", "0"),
    ("2^a", "0"),
    ("x^a", "a x^(a - 1)"),
    ("sqrt(2)", "0"),
    ("sin 1", "0"),
    ("1/3", "0"),
    ("cos(pi x)", "-pi sin pi x"),
    ("x^(1/3)", "1/(3x^(2/3))"),
    ("cbrt(x^2 + 1)", "2x/(3(x^2 + 1)^(2/3))"),
    ("x*x", "2x"),
    ("arctan(e^x)", "e^x/(1 + e^(2x))"),
    ("arctan(sqrt x)", "1/(2sqrt(x) (x + 1))"),
]


@pytest.mark.parametrize(("text", "expected"), WRITTEN)
def test_a_derivative_as_written(text: str, expected: str) -> None:
    tree = read(text, variable=X).tree
    slope = derivative(tree, X)
    assert plain(slope) == plain(read(expected, variable=X).tree)
    assert isinstance(decide_antiderivative(tree, slope, X), Proved)


ARGUMENTS = [X, 3 * X, (X + 2) / 3, (X**2 - X) / 2]


@pytest.mark.parametrize("argument", ARGUMENTS, ids=plain)
@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_every_function_has_its_derivative(name: str, argument: Expression) -> None:
    tree = Apply(name, argument)
    slope = derivative(tree, X)
    assert isinstance(decide_antiderivative(tree, slope, X), Proved)


#: SymPy's names where they differ
SYMPY = {
    "cosec": "csc",
    "arccosec": "acsc",
    "cosech": "csch",
    "arcosech": "acsch",
    "abs": "Abs",
    "ln": "log",
    **{
        f"arc{n}": f"a{m}"
        for n, m in (("sin", "sin"), ("cos", "cos"), ("tan", "tan"), ("sec", "sec"), ("cot", "cot"))
    },
    **{f"ar{n}": f"a{n}" for n in ("sinh", "cosh", "tanh", "sech", "coth")},
}


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_against_sympy(name: str) -> None:
    """The slope at points of the domain agrees with SymPy's own derivative (an independent oracle)."""
    symbol = sympy.Symbol("x", real=True)
    oracle = sympy.diff(getattr(sympy, SYMPY.get(name, name))(symbol), symbol)
    mine = derivative(Apply(name, X), X)
    compared = 0
    for value in (-2.5, -0.75, 0.4, 0.85, 1.5, 3.25):
        if getattr(sympy, SYMPY.get(name, name))(value).evalf().is_real is False:
            continue
        expected = complex(oracle.subs(symbol, value).evalf())
        ours = _value(mine, value)
        if ours is not None and not expected.imag:
            compared += 1
            assert math.isclose(ours, expected.real, rel_tol=1e-9)
    assert compared >= 2


def _value(tree: Expression, at: float) -> float | None:
    """A plain floating-point value through SymPy's functions, None where it is not real."""
    value = complex(_to_sympy(tree).subs(sympy.Symbol("x"), at).evalf())
    return value.real if abs(value.imag) < 1e-12 else None


def _to_sympy(tree: Expression) -> sympy.Expr:
    parts = [_to_sympy(child) for child in tree.children]
    match type(tree).__name__:
        case "Integer":
            return sympy.Integer(tree.value)  # type: ignore[attr-defined]
        case "Symbol":
            return sympy.Symbol("x")
        case "Constant":
            return sympy.E
        case "Sum":
            return sympy.Add(*parts)
        case "Product":
            return sympy.Mul(*parts)
        case "Negate":
            return -parts[0]
        case "Quotient":
            return parts[0] / parts[1]
        case "Power":
            return parts[0] ** parts[1]
        case "Root":
            return sympy.sqrt(parts[0])
        case _:
            name = tree.function  # type: ignore[attr-defined]
            return getattr(sympy, SYMPY.get(name, name))(parts[0])


@given(expressions(size=8))
@settings(max_examples=60)
def test_never_refuted(tree: Expression) -> None:
    slope = derivative(tree, X)
    assert not isinstance(decide_antiderivative(tree, slope, X, budget=0.2), Refuted)


@pytest.mark.parametrize(
    "tree",
    [
        Integral(X, X),
        Differential(X) * 2,
        Evaluated(X, X, Integer(0), Integer(1)),
        Limit(X, X, Integer(0), 1),
    ],
    ids=lambda tree: type(tree).__name__,
)
def test_calculus_is_refused(tree: Expression) -> None:
    with pytest.raises(ValueError, match="no derivative here"):
        derivative(tree, X)


def test_arranged_joins_and_orders() -> None:
    tree = sin(X) * (X + 1) * X * PI * 2 / cos(X) * Symbol("e_1")
    assert plain(arranged(tree, X)) == "(2pi e_1 x (x + 1) sin x)/(cos x)"
    assert arranged(X * 0, X) == Integer(0)


def test_nested_powers_cost_no_multiple_at_each_level(monkeypatch: pytest.MonkeyPatch) -> None:
    count = 0

    def counted(tree: Expression, variable: Symbol) -> Expression:
        nonlocal count
        count += 1
        return each(tree, variable)

    each = module._derivative
    monkeypatch.setattr(module, "_derivative", counted)
    tree: Expression = X
    for _ in range(5):
        tree = Apply("ln", Apply("abs", (1 / (1 + tree)) ** 3))
    derivative(tree, X)
    assert count <= sum(1 for _ in tree.walk())
