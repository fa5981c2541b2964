"""Products in one form, for comparing only: never shown.

    tan^2 x, sec x         powers of sin x and cos x
    e^(3x), e^-x           powers of e^x
    4x^3 - 4x              4, x and x^2 - 1
    1 + x, x + 1           one order of terms

Two products are the same up to a constant when their powers agree.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from qbank.maths.constant_factor import number, times
from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Power,
    Sum,
    Symbol,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.tidying import scaled, split_coefficient
from qbank.techniques.standard_functions import FUNCTION_POWERS

__all__ = ["canonical", "ordered"]


def ordered(tree: Expression) -> Expression:
    """The tree with the terms of every sum in one order, and with `exp` and square roots written as powers.

    >>> x = Symbol("x")
    >>> ordered(1 + x) == ordered(x + 1)
    True
    """
    tree = tree.rebuild(ordered)
    match tree:
        case Sum(terms):
            return sum_of(*sorted(terms, key=_key))
        case Apply("exp", argument):
            return Power(E, argument)
        case _:
            return tree


def _key(tree: Expression) -> tuple[str, str]:
    coefficient, body = split_coefficient(tree)
    return repr(body), str(coefficient)


def canonical(tree: Expression, variable: Symbol) -> Factored:
    """A tree with ordered sums as a product in the form for comparing; constants stay as they are.

    >>> from qbank.maths.expression import sin, tan
    >>> x = Symbol("x")
    >>> canonical(tan(x) ** 2, x).exponent(sin(x))
    Fraction(2, 1)
    """
    seen = factored(tree)
    return times(number(seen.coefficient), *_parts(seen, variable))


def _parts(seen: Factored, variable: Symbol) -> Iterator[Factored]:
    for base, exponent in seen.powers:
        if variable not in base.symbols():
            yield _one(base, exponent)
            continue
        match base:
            case Apply(function, argument) if function in FUNCTION_POWERS and exponent.denominator == 1:
                yield from _function(function, argument, exponent)
            case Power(constant, inner) if variable not in constant.symbols():
                rate, body = split_coefficient(inner)
                yield _one(Power(constant, body), exponent * rate)
            case Sum() if exponent.denominator == 1:
                yield from _sum(base, exponent, variable)
            case _:
                yield _one(base, exponent)


def _one(base: Expression, exponent: Fraction) -> Factored:
    return Factored(coefficient=Fraction(1), powers=((base, exponent),))


def _function(function: str, argument: Expression, exponent: Fraction) -> Iterator[Factored]:
    kind, sine, cosine = FUNCTION_POWERS[function]
    names = ("sin", "cos") if kind == "circular" else ("sinh", "cosh")
    for name, n in zip(names, (sine, cosine), strict=True):
        if n:
            yield _one(Apply(name, argument), n * exponent)


def _sum(base: Sum, exponent: Fraction, variable: Symbol) -> Iterator[Factored]:
    """A sum without its number in front; a polynomial also without its power of the variable."""
    whole = as_polynomial(base, variable)
    if whole is not None and len(whole) > 1:
        low = next(n for n, c in enumerate(whole) if c)
        lead = whole[-1]
        yield number(lead ** int(exponent))
        if low:
            yield _one(variable, low * exponent)
        rest = tuple(c / lead for c in whole[low:])
        if len(rest) > 1:
            yield _one(ordered(polynomial_tree(rest, variable)), exponent)
        return
    lead, _ = split_coefficient(base.terms[0])
    if not lead:
        yield _one(base, exponent)
        return
    yield number(lead ** int(exponent))
    terms = (_divided(term, lead) for term in base.terms)
    yield _one(sum_of(*sorted(terms, key=_key)), exponent)


def _divided(term: Expression, by: Fraction) -> Expression:
    size, body = split_coefficient(term)
    return scaled(size / by, body)
