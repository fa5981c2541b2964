"""The square of a function, multiplied out as one does before integrating: roots vanish, exponents double."""

from __future__ import annotations

from itertools import combinations

from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    product,
    sum_of,
)
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.tidying import tidy

__all__ = ["squared"]


def squared(tree: Expression, variable: Symbol) -> Expression:
    """The square of a real function.

    >>> from qbank.maths.expression import exp, sqrt
    >>> x = Symbol("x")
    >>> squared(sqrt(4 - x**2), x) == 4 - x**2
    True
    >>> squared(3 * exp(x), x) == 9 * exp(2 * x)
    True
    """
    coefficients = as_polynomial(tree**2, variable)
    return _square(tree, variable) if coefficients is None else polynomial_tree(coefficients, variable)


def _square(tree: Expression, variable: Symbol) -> Expression:
    coefficients = as_polynomial(tree**2, variable)
    if coefficients is not None:
        return polynomial_tree(coefficients, variable)
    match tree:
        case Negate(operand):
            return _square(operand, variable)
        case Product(factors):
            return tidy(product(*(_square(factor, variable) for factor in factors)))
        case Quotient(numerator, denominator):
            return tidy(Quotient(_square(numerator, variable), _below(denominator, variable)))
        case Root(radicand, 2):
            return tidy(radicand)
        case Power(base, exponent) if base == E or base.symbols():
            return tidy(Power(base, tidy(2 * exponent)))
        case Apply("exp", argument):
            return Apply("exp", tidy(2 * argument))
        case Sum((first, second)):
            double = _double_product(first, second)
            return tidy(sum_of(_square(first, variable), double, _square(second, variable)))
        case Sum(terms):
            doubles = (_double_product(one, other) for one, other in combinations(terms, 2))
            return tidy(sum_of(*(_square(term, variable) for term in terms), *doubles))
        case _:
            return Power(tree, Integer(2))


def _below(denominator: Expression, variable: Symbol) -> Expression:
    """The square of a denominator: a bracket keeps its form, a root vanishes."""
    rooted = denominator.holds(Root)
    return _square(denominator, variable) if rooted else tidy(Power(denominator, Integer(2)))


def _double_product(first: Expression, second: Expression) -> Expression:
    return tidy(product(Integer(2), first, second))
