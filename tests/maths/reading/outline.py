"""Trees for tests: a short way to write the expected one, and its value at a point.

`outline` writes a tree in prefix form, one bracket per node and nothing left out, so that two trees have the same
outline only when they are the same: `(+ x (- 1))` is a sum whose second term is the negation of 1.
"""

from __future__ import annotations

from collections.abc import Mapping

import mpmath

from qbank.maths.expression import (
    Apply,
    Constant,
    Decimal,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
)

__all__ = ["outline", "value"]


def outline(tree: Expression) -> str:
    match tree:
        case Integer():
            return str(tree.value)
        case Decimal():
            return tree.text
        case Symbol() | Constant():
            return tree.name
        case Sum() | Product() | Negate() | Quotient() | Power():
            sign = {"Sum": "+", "Product": "*", "Negate": "-", "Quotient": "/", "Power": "^"}[
                type(tree).__name__
            ]
            return f"({sign} {' '.join(map(outline, tree.children))})"
        case Root():
            return f"(root {tree.index} {outline(tree.radicand)})"
        case Apply():
            return f"({tree.function} {outline(tree.argument)})"
    raise AssertionError(tree)


_RECIPROCAL = {"sec": "cos", "cosec": "sin", "cot": "tan", "sech": "cosh", "cosech": "sinh", "coth": "tanh"}
_INVERSE = {
    "arcsin": "asin",
    "arccos": "acos",
    "arctan": "atan",
    "arsinh": "asinh",
    "arcosh": "acosh",
    "artanh": "atanh",
}
_INVERSE |= {
    "arcsec": "asec",
    "arccosec": "acsc",
    "arccot": "acot",
    "arsech": "asech",
    "arcosech": "acsch",
    "arcoth": "acoth",
}


def value(tree: Expression, at: Mapping[str, object]) -> mpmath.mpc:
    """The value of a tree by mpmath, at numbers for its symbols."""
    parts = [value(child, at) for child in tree.children]
    match tree:
        case Integer() | Decimal():
            exact = tree.value
            return (
                mpmath.mpf(exact)
                if isinstance(exact, int)
                else mpmath.mpf(exact.numerator) / exact.denominator
            )
        case Symbol():
            return at[tree.name]
        case Constant():
            return {"pi": mpmath.pi, "e": mpmath.e, "infinity": mpmath.inf}[tree.name] + 0
        case Sum():
            return mpmath.fsum(parts)
        case Product():
            return mpmath.fprod(parts)
        case Negate():
            return -parts[0]
        case Quotient():
            return parts[0] / parts[1]
        case Power():
            return mpmath.power(*parts)
        case Root():
            return mpmath.root(parts[0], tree.index)
        case Apply(function=name):
            if name in _RECIPROCAL:
                return 1 / getattr(mpmath, _RECIPROCAL[name])(parts[0])
            return getattr(mpmath, {**_INVERSE, "abs": "fabs"}.get(name, name))(parts[0])
    raise AssertionError(tree)
