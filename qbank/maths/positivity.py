"""Expressions that are positive wherever they are real, by their looks: `x^2 + 1`, `e^x + 3`, `2 + sin x`.

Used to leave the modulus away in `ln(x^2 + 1)`. The answer False only means: not by its looks.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.expression import (
    PI,
    Apply,
    E,
    Expression,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    as_fraction,
    fraction,
)
from qbank.maths.polynomial import as_polynomial
from qbank.maths.tidying import split_coefficient

__all__ = ["never_negative", "surely_positive", "with_modulus", "without_needless_modulus"]


@dataclass(frozen=True, slots=True)
class _Bound:
    """The values are at least `value`, and never equal to it where `strict`."""

    value: Fraction
    strict: bool


_ZERO = _Bound(fraction(0, 1), strict=False)
_POSITIVE = _Bound(fraction(0, 1), strict=True)

_FUNCTIONS = {
    "exp": _POSITIVE,
    "sech": _POSITIVE,
    "cosh": _Bound(fraction(1, 1), strict=False),
    "abs": _ZERO,
    "sin": _Bound(fraction(-1, 1), strict=False),
    "cos": _Bound(fraction(-1, 1), strict=False),
}


def surely_positive(tree: Expression) -> bool:
    """Whether the tree is positive wherever it has a real value.

    >>> from qbank.maths.expression import Symbol
    >>> surely_positive(Symbol("x") ** 2 + 1), surely_positive(Symbol("x") + 1)
    (True, False)
    """
    bound = _lower(tree)
    return bound is not None and _is_positive(bound)


def never_negative(tree: Expression) -> bool:
    """Whether the tree is positive or zero wherever it has a real value.

    >>> from qbank.maths.expression import Symbol, cos, sin
    >>> x = Symbol("x")
    >>> never_negative(1 + cos(x)), never_negative(sin(x) ** 2), never_negative(sin(x))
    (True, True, False)
    """
    bound = _lower(tree)
    return bound is not None and bound.value >= 0


def with_modulus(tree: Expression) -> Expression:
    """The same tree with `ln g` written `ln|g|` throughout.

    >>> from qbank.maths.expression import Symbol, ln
    >>> with_modulus(ln(Symbol("x"))) == ln(Apply("abs", Symbol("x")))
    True
    """
    tree = tree.rebuild(with_modulus)
    match tree:
        case Apply("ln", Apply("abs", _)):
            return tree
        case Apply("ln", argument):
            return Apply("ln", Apply("abs", argument))
        case _:
            return tree


def without_needless_modulus(tree: Expression) -> Expression:
    """The same tree with `ln|g|` written `ln g` where g is surely positive.

    >>> from qbank.maths.expression import Symbol, exp, ln
    >>> without_needless_modulus(ln(Apply("abs", exp(Symbol("x"))))) == ln(exp(Symbol("x")))
    True
    """
    tree = tree.rebuild(without_needless_modulus)
    match tree:
        case Apply("ln", Apply("abs", argument)) if surely_positive(argument):
            return Apply("ln", argument)
        case _:
            return tree


def _is_positive(bound: _Bound) -> bool:
    return bound.value > 0 or (bound.value == 0 and bound.strict)


def _lower(tree: Expression) -> _Bound | None:
    number = as_fraction(tree)
    if number is not None:
        return _Bound(number, strict=False)
    match tree:
        case Sum(terms):
            return _of_sum(tree, terms)
        case Negate():
            return _of_wave(tree)
        case Product(factors):
            return _of_wave(tree) or _all(factors)
        case Quotient(numerator, denominator):
            return _of_wave(tree) or _all((numerator, denominator))
        case Power(base, exponent):
            return _of_power(base, exponent)
        case Root(radicand, index):
            inner = _lower(radicand)
            if inner is not None and _is_positive(inner):
                return _POSITIVE
            return _ZERO if index % 2 == 0 else None
        case Apply(function):
            return _FUNCTIONS.get(function)
        case _:
            return _POSITIVE if tree in (E, PI) else None


def _of_sum(tree: Expression, terms: tuple[Expression, ...]) -> _Bound | None:
    total, strict = fraction(0, 1), False
    for term in terms:
        bound = _lower(term)
        if bound is None:
            return _POSITIVE if _is_definite_quadratic(tree) else None
        total, strict = total + bound.value, strict or bound.strict
    return _Bound(total, strict)


def _is_definite_quadratic(tree: Expression) -> bool:
    """A quadratic in one letter without real roots, opening upwards."""
    letters = tree.symbols()
    coefficients = as_polynomial(tree, next(iter(letters))) if len(letters) == 1 else None
    if coefficients is None or len(coefficients) != 3:
        return False
    c, b, a = coefficients
    return a > 0 and b * b < 4 * a * c


def _of_wave(tree: Expression) -> _Bound | None:
    """A number times a sine or cosine, which stays between the number and its opposite."""
    size, body = split_coefficient(tree)
    match body:
        case Apply("sin" | "cos"):
            return _Bound(-abs(size), strict=False)
        case _ if size < 0:
            return None
        case _:
            return None if body == tree else _scaled(size, _lower(body))


def _scaled(size: Fraction, bound: _Bound | None) -> _Bound | None:
    return None if bound is None else _Bound(bound.value * size, bound.strict)


def _all(parts: tuple[Expression, ...]) -> _Bound | None:
    bounds = [_lower(part) for part in parts]
    if any(bound is None or bound.value < 0 for bound in bounds):
        return None
    return _POSITIVE if all(bound and _is_positive(bound) for bound in bounds) else _ZERO


def _of_power(base: Expression, exponent: Expression) -> _Bound | None:
    inner, number = _lower(base), as_fraction(exponent)
    if inner is not None and _is_positive(inner):
        return _POSITIVE
    return _ZERO if number is not None and number.numerator % 2 == 0 and number > 0 else None
