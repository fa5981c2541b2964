"""Random expressions in x of the kind that calculus is about, small enough to be decided at once."""

from __future__ import annotations

from fractions import Fraction
from functools import partial

import mpmath
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from qbank.maths.expression import (
    Apply,
    Constant,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    rational,
)
from qbank.maths.functions import FUNCTIONS

__all__ = ["constants", "mp_value", "smooth_expressions"]

x = Symbol("x")

small = st.integers(-4, 4).map(rational)
fractions = st.builds(rational, st.integers(-5, 5), st.integers(1, 4))


def _grown(leaves: SearchStrategy[Expression], names: tuple[str, ...]) -> SearchStrategy[Expression]:
    def grow(part: SearchStrategy[Expression]) -> SearchStrategy[Expression]:
        pair = st.tuples(part, part)
        return st.one_of(
            pair.map(Sum),
            pair.map(Product),
            st.builds(Quotient, part, part),
            st.builds(Negate, part),
            st.builds(Power, part, st.integers(-2, 3).map(rational)),
            st.builds(Power, part, st.sampled_from([rational(1, 3), rational(-2, 3), rational(1, 2)])),
            st.builds(Root, part, st.integers(2, 3)),
            st.builds(Apply, st.sampled_from(names), part),
        )

    return st.recursive(leaves, grow, max_leaves=6)


def smooth_expressions() -> SearchStrategy[Expression]:
    """Expressions in x."""
    leaves = st.one_of(st.just(x), st.just(x), small, fractions, st.just(Constant("pi")))
    return _grown(leaves, tuple(sorted(FUNCTIONS)))


def constants() -> SearchStrategy[Expression]:
    """Expressions without letters."""
    leaves = st.one_of(small, fractions, st.just(Constant("pi")), st.just(Constant("e")))
    return _grown(leaves, tuple(sorted(FUNCTIONS)))


_MP = {
    "cosec": "csc",
    "arcsin": "asin",
    "arccos": "acos",
    "arctan": "atan",
    "arcsec": "asec",
    "arccosec": "acsc",
    "cosech": "csch",
    "arsinh": "asinh",
    "arcosh": "acosh",
    "artanh": "atanh",
    "arsech": "asech",
    "arcosech": "acsch",
    "arcoth": "acoth",
    "ln": "log",
    "abs": "fabs",
}


def mp_value(node: Expression, place: object) -> object:
    """The value of a tree by mpmath alone, real where ours is real."""
    value = partial(mp_value, place=place)
    match node:
        case Integer(number):
            return mpmath.mpf(number)
        case Symbol():
            return place
        case Constant(name):
            return +getattr(mpmath, name)
        case Sum(terms):
            return mpmath.fsum([value(term) for term in terms])
        case Product(factors):
            return mpmath.fprod([value(factor) for factor in factors])
        case Negate(operand):
            return -value(operand)  # type: ignore[operator]
        case Quotient(numerator, denominator):
            return value(numerator) / value(denominator)  # type: ignore[operator]
        case Root(radicand, index):
            return _real_power(value(radicand), Fraction(1, index))
        case Power(base, exponent):
            return _real_power(value(base), _fraction(exponent))
        case Apply("arccot", argument):
            return mpmath.pi / 2 - mpmath.atan(value(argument))
        case Apply(name, argument):
            return getattr(mpmath, _MP.get(name, name))(value(argument))
    raise TypeError(node)


def _fraction(node: Expression) -> Fraction:
    match node:
        case Integer(number):
            return Fraction(number)
        case Negate(operand):
            return -_fraction(operand)
        case Quotient(Integer(over), Integer(under)):
            return Fraction(over, under)
    raise TypeError(node)


def _real_power(base: object, exponent: Fraction) -> object:
    """Odd roots of negative numbers are real here; mpmath gives the principal complex one."""
    if exponent.denominator % 2 and mpmath.im(base) == 0 and mpmath.re(base) < 0:
        size = mpmath.power(-mpmath.re(base), mpmath.mpf(exponent.numerator) / exponent.denominator)
        return -size if exponent.numerator % 2 else size
    return mpmath.power(base, mpmath.mpf(exponent.numerator) / exponent.denominator)
