"""Is a response right? By high-precision differences, with an evaluator of its own: it shares nothing with deciding."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

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

__all__ = ["is_right"]

DIGITS = 60
#: no usual zeros, poles or periods, on both sides of 0
POINTS = tuple(mpmath.mpf(n) / 7919 for n in (-31013, -9973, -5021, -1117, 907, 3001, 6007, 11003, 29021))
#: where the integrand is larger, differences are not accurate enough; most of these points have to be used on both sides of 0
LARGEST = 10**12
NAMES: dict[str, Callable[[Any], Any]] = {
    name: getattr(
        mpmath, {"cosec": "csc", "arcsin": "asin", "arccos": "acos", "arctan": "atan"}.get(name, name)
    )
    for name in ("sin", "cos", "tan", "sec", "cosec", "cot", "arcsin", "arccos", "arctan", "exp", "ln")
} | {"abs": abs, "arccot": lambda v: mpmath.pi / 2 - mpmath.atan(v)}


class NotRealError(ArithmeticError):
    """Some part of an expression has no real value at the point."""


def value(tree: Expression, at: Any) -> Any:
    """The real value at a point."""
    found = _value(tree, at)
    if isinstance(found, mpmath.mpc):
        raise NotRealError
    return found


def _value(tree: Expression, at: Any) -> Any:
    match tree:
        case Integer(number):
            return mpmath.mpf(number)
        case Decimal():
            return mpmath.mpf(tree.value.numerator) / tree.value.denominator
        case Symbol(name):
            return at if name == "x" else mpmath.mpf(13) / 8
        case Constant(name):
            return mpmath.pi if name == "pi" else mpmath.e
        case Sum(parts):
            return mpmath.fsum(value(part, at) for part in parts)
        case Product(parts):
            return mpmath.fprod(value(part, at) for part in parts)
        case Quotient(over, under):
            return value(over, at) / value(under, at)
        case Negate(inner):
            return -value(inner, at)
        case Power(base, exponent):
            return value(base, at) ** value(exponent, at)
        case Root(inner, index):
            return value(inner, at) ** (mpmath.mpf(1) / index)
        case Apply(name, inner):
            return NAMES[name](value(inner, at))
    raise TypeError(tree)


def is_right(answer: Expression, integrand: Expression) -> bool | None:
    """Whether the derivative is the integrand at every point where both are real; None without such a point."""
    seen = False
    with mpmath.workdps(DIGITS):
        step = mpmath.mpf(10) ** -(DIGITS // 3)
        for point in POINTS:
            try:
                wanted = value(integrand, point)
                slope = (value(answer, point + step) - value(answer, point - step)) / (2 * step)
            except ArithmeticError:
                continue
            if abs(wanted) > LARGEST:
                continue
            seen = True
            # the error of the difference is of the order of step^2 = 10^-40 times a third derivative
            if abs(slope - wanted) > mpmath.mpf(10) ** -28 * (1 + abs(wanted)):
                return False
    return True if seen else None
