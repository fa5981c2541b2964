"""The integrand after any substitution that can be undone, written in the new letter alone.

    f(x) dx with u = g(x)      f/g' du, each function of the same argument written with u, and x put as g undone

Only where the functions are positive and on one branch: this serves to find out where a substitution may lead, and proves
nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TypeAlias

from qbank.maths.constant_factor import times
from qbank.maths.derivative import derivative
from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Power,
    Quotient,
    Root,
    Symbol,
    as_fraction,
    fraction,
    ln,
    rational,
    sqrt,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.functions import FUNCTIONS
from qbank.maths.polynomial import as_polynomial, divided_by, polynomial_tree
from qbank.maths.tidying import tidy

__all__ = ["CIRCULAR", "in_the_letter", "is_of_higher_degree"]

_Pair: TypeAlias = tuple[Expression, Expression]

#: sine and cosine in terms of one function u of the angle, where both are positive (Pythagoras)
CIRCULAR: Mapping[str, Callable[[Expression], _Pair]] = MappingProxyType(
    {
        "sin": lambda u: (u, sqrt(1 - u**2)),
        "cos": lambda u: (sqrt(1 - u**2), u),
        "tan": lambda u: (u / sqrt(1 + u**2), 1 / sqrt(1 + u**2)),
        "cot": lambda u: (1 / sqrt(1 + u**2), u / sqrt(1 + u**2)),
        "sec": lambda u: (sqrt(u**2 - 1) / u, 1 / u),
        "cosec": lambda u: (1 / u, sqrt(u**2 - 1) / u),
    }
)

#: sinh and cosh likewise, from cosh^2 - sinh^2 = 1 (DLMF 4.35.11)
_HYPERBOLIC: Mapping[str, Callable[[Expression], _Pair]] = MappingProxyType(
    {
        "sinh": lambda u: (u, sqrt(u**2 + 1)),
        "cosh": lambda u: (sqrt(u**2 - 1), u),
        "tanh": lambda u: (u / sqrt(1 - u**2), 1 / sqrt(1 - u**2)),
        "coth": lambda u: (1 / sqrt(u**2 - 1), u / sqrt(u**2 - 1)),
        "sech": lambda u: (sqrt(1 - u**2) / u, 1 / u),
        "cosech": lambda u: (1 / u, sqrt(1 + u**2) / u),
    }
)

#: the functions of a family from its first two
_FROM_TWO: Mapping[str, Callable[[Expression, Expression], Expression]] = MappingProxyType(
    {
        "sin": lambda s, _c: s,
        "cos": lambda _s, c: c,
        "tan": lambda s, c: s / c,
        "cot": lambda s, c: c / s,
        "sec": lambda _s, c: 1 / c,
        "cosec": lambda s, _c: 1 / s,
        "sinh": lambda s, _c: s,
        "cosh": lambda _s, c: c,
        "tanh": lambda s, c: s / c,
        "coth": lambda s, c: c / s,
        "sech": lambda _s, c: 1 / c,
        "cosech": lambda s, _c: 1 / s,
    }
)
_INVERSES = {row.inverse_of: name for name, row in FUNCTIONS.items() if row.inverse_of is not None}


def in_the_letter(
    inner: Expression, letter: Symbol, integrand: Expression, variable: Symbol
) -> Expression | None:
    """What stands before du after the substitution of a function that can be undone; None where it cannot.

    Args:
        inner: what is substituted.
        letter: the new letter.
        integrand: what is integrated.
        variable: with respect to what.

    >>> x, u = Symbol("x"), Symbol("u")
    >>> in_the_letter(x**3, u, x**2, x)
    Quotient(numerator=Integer(value=1), denominator=Integer(value=3))
    """
    undone = _undone(inner, letter, variable)
    if undone is None:
        return None
    whole: Expression = Quotient(integrand, derivative(inner, variable))
    if isinstance(inner, Apply) and inner.function in _FROM_TWO:
        family = CIRCULAR if inner.function in CIRCULAR else _HYPERBOLIC
        whole = _by_one_function(whole, inner, letter, family)
    elif isinstance(inner, Power) and inner.base == E:
        whole = _by_one_exponential(whole, inner, letter, variable)
    else:
        whole = whole.replaced(inner, letter)
    return tidy(_roots_cancelled(factored(whole.substitute({variable: undone})), letter).tree())


def _roots_cancelled(whole: Factored, letter: Symbol) -> Factored:
    """`sqrt(1 + u)/sqrt(1 - u^2)` as `1/sqrt(1 - u)`."""
    above = [(base, as_polynomial(base, letter)) for base, n in whole.powers if n == fraction(1, 2)]
    below = [(base, as_polynomial(base, letter)) for base, n in whole.powers if n == fraction(-1, 2)]
    for base, linear in above:
        for under, quadratic in below:
            if linear is None or quadratic is None or (len(linear), len(quadratic)) != (2, 3):
                continue
            quotient, rest = divided_by(quadratic, linear)
            if not any(rest):
                left = Factored(
                    coefficient=fraction(1, 1), powers=((polynomial_tree(quotient, letter), fraction(-1, 2)),)
                )
                return times(whole.without(base, under), left)
    return whole


def is_of_higher_degree(inner: Expression, variable: Symbol) -> bool:
    """Whether it is a function of a polynomial with several terms that is not linear."""
    found = as_polynomial(_peeled(inner, variable, variable)[0], variable)
    return found is not None and len(found) > 2


def _undone(inner: Expression, letter: Symbol, variable: Symbol) -> Expression | None:
    """The variable in terms of what a function of a linear expression is called."""
    rest, value = _peeled(inner, letter, variable)
    found = as_polynomial(rest, variable)
    if found is None or len(found) != 2 or rest == inner:
        return None
    number, slope = found
    return tidy((value - rational(number)) / rational(slope))


def _peeled(inner: Expression, value: Expression, variable: Symbol) -> tuple[Expression, Expression]:
    """What is left when powers, roots and functions are undone from outside, and what it is equal to."""
    while True:
        match inner:
            case Power(base, exponent) if base == E and variable in exponent.symbols():
                inner, value = exponent, ln(value)
            case Power(base, exponent) if (number := as_fraction(exponent)) and variable in base.symbols():
                inner, value = base, Power(value, rational(1 / number))
            case Root(radicand, index):
                inner, value = radicand, Power(value, rational(index))
            case Apply("ln", argument):
                inner, value = argument, Power(E, value)
            case Apply(name, argument) if name in _INVERSES:
                inner, value = argument, Apply(_INVERSES[name], value)
            case _:
                return inner, value


def _by_one_function(
    tree: Expression, one: Apply, letter: Symbol, family: Mapping[str, Callable[[Expression], _Pair]]
) -> Expression:
    """Every function of the family with the same argument written with one of them."""
    if tree == one:
        return letter
    if not isinstance(tree, Apply) or tree.argument != one.argument or tree.function not in family:
        return tree.rebuild(lambda part: _by_one_function(part, one, letter, family))
    return _FROM_TWO[tree.function](*family[one.function](letter))


def _by_one_exponential(tree: Expression, one: Power, letter: Symbol, variable: Symbol) -> Expression:
    """Every exponential of a linear exponent written as a power of one of them; hyperbolic functions as exponentials."""

    def written(part: Expression) -> Expression:
        if isinstance(part, Apply) and part.function in _HYPERBOLIC:
            up, down = written(Power(E, part.argument)), written(Power(E, tidy(-part.argument)))
            return _FROM_TWO[part.function]((up - down) / 2, (up + down) / 2)
        if not isinstance(part, Power) or part.base != E:
            return part.rebuild(written)
        wanted, given = as_polynomial(part.exponent, variable), as_polynomial(one.exponent, variable)
        if wanted is None or given is None or len(wanted) != 2 or len(given) != 2:
            return part.rebuild(written)
        times = wanted[1] / given[1]
        shift = wanted[0] - times * given[0]
        power = tidy(Power(letter, rational(times)))
        return power if not shift else Power(E, rational(shift)) * power

    return written(tree)
