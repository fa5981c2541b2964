"""The derivative of a tree, written as a teacher writes it after the rule has been applied.

    sum term by term, constants in front, product rule, quotient rule, power rule, and for a named
    function the chain rule with a row of a table

This is for showing `du = 2x dx`, for finding a substitution and for slips. Whether one expression is the derivative
of another is never decided here: that is the business of `qbank.maths.deciding`, which shares no code with this.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from qbank.maths.expression import (
    Apply,
    Differential,
    E,
    Evaluated,
    Expression,
    Integer,
    Integral,
    Limit,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    ln,
    product,
    rational,
    sqrt,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_monomial, as_polynomial, polynomial_tree
from qbank.maths.tidying import scaled, tidy

__all__ = ["arranged", "derivative"]

_ZERO, _ONE = Integer(0), Integer(1)

#: trees of which the derivative is remembered: those of their parts are asked for too
_REMEMBERED = 1024


def derivative(tree: Expression, variable: Symbol) -> Expression:
    """The derivative with respect to one letter; all other letters are constants.

    Args:
        tree: an expression without integrals and differentials.
        variable: the letter.

    Returns:
        The derivative, tidied: numbers and constants in front, then powers of the variable.

    Raises:
        ValueError: the tree holds an integral, square brackets with limits, a limit or a differential.

    The table of derivatives is that of the NIST Handbook (DLMF 4.20, 4.24, 4.34, 4.38), real variables.

    >>> x = Symbol("x")
    >>> derivative((x**2 + 1) ** 3, x) == 6 * x * (x**2 + 1) ** 2
    True
    """
    if tree.holds(Integral, Evaluated, Limit, Differential):
        raise ValueError("an integral, a limit or a differential has no derivative here")
    return tidy(_derivative(tree, variable))


@lru_cache(maxsize=_REMEMBERED)
def _derivative(tree: Expression, variable: Symbol) -> Expression:
    match tree:
        case Symbol():
            return _ONE if tree == variable else _ZERO
        case Sum(terms):
            slopes = (_derivative(term, variable) for term in terms)
            return sum_of(*(slope for slope in slopes if slope != _ZERO))
        case Negate(operand):
            return arranged(Negate(_derivative(operand, variable)), variable)
        case Product(factors):
            return _of_product(factors, variable)
        case Quotient(numerator, denominator):
            return _of_quotient(numerator, denominator, variable)
        case Power(base, exponent):
            return _of_power(base, exponent, variable)
        case Root(radicand, index):
            return _of_root(radicand, index, variable)
        case Apply(function, argument):
            return _of_function(function, argument, variable)
        case _:
            return _ZERO


def arranged(tree: Expression, variable: Symbol) -> Expression:
    """A product in the order of the hand: number, constants, powers of the variable, brackets, e^..., functions.

    Equal factors are joined to powers, negative powers go below one fraction line; a sum is left as it is.

    >>> from qbank.maths.expression import PI, sin
    >>> x = Symbol("x")
    >>> arranged(sin(x) * x * PI * 2, x) == 2 * PI * x * sin(x)
    True
    """
    seen = factored(tree)
    if not seen.coefficient:
        return _ZERO
    ordered = sorted(seen.powers, key=lambda pair: _rank(pair[0], variable))
    return replace(seen, powers=tuple(ordered)).tree()


def _rank(base: Expression, variable: Symbol) -> int:
    if base == variable:
        return 1
    if variable not in base.symbols():
        return 0
    match base:
        case Apply("abs"):
            return 1
        case Apply("exp"):
            return 3
        case Apply():
            return 4
        case Power(_, exponent) if variable in exponent.symbols():
            return 3
        case _:
            return 2


def _of_product(factors: tuple[Expression, ...], variable: Symbol) -> Expression:
    terms = []
    for place, factor in enumerate(factors):
        slope = _derivative(factor, variable)
        if slope != _ZERO:
            terms.append(arranged(product(*factors[:place], slope, *factors[place + 1 :]), variable))
    return _joined(terms, variable)


def _joined(terms: list[Expression], variable: Symbol) -> Expression:
    """Terms added; two that differ by a number only become one."""
    if len(terms) < 2:
        return sum_of(*terms)
    found: dict[frozenset[tuple[Expression, Fraction]], Fraction] = {}
    for term in terms:
        seen = factored(term)
        key = frozenset(seen.powers)
        found[key] = found.get(key, fraction(0, 1)) + seen.coefficient
    if len(found) == len(terms):
        return sum_of(*terms)
    kept = (
        Factored(
            coefficient=c,
            powers=tuple(sorted(powers, key=lambda pair: (_rank(pair[0], variable), repr(pair)))),
        ).tree()
        for powers, c in found.items()
        if c
    )
    return sum_of(*kept)


def _of_quotient(over: Expression, under: Expression, variable: Symbol) -> Expression:
    over_slope, under_slope = _derivative(over, variable), _derivative(under, variable)
    if under_slope == _ZERO:
        return arranged(Quotient(over_slope, under), variable)
    if over_slope == _ZERO:
        # n / v differentiates as a power, so that 1/x^3 gives -3/x^4
        return _times_power(over, under, under_slope, fraction(-1, 1), variable)
    first, second = arranged(product(over_slope, under), variable), product(over, under_slope)
    top = tidy(_joined([first, arranged(Negate(second), variable)], variable))
    whole = as_polynomial(top, variable)
    top = top if whole is None else polynomial_tree(whole, variable)
    return Quotient(top, Power(under, Integer(2))) if top != _ZERO else _ZERO


def _times_power(
    front: Expression, base: Expression, inner: Expression, exponent: Fraction, variable: Symbol
) -> Expression:
    """The derivative of `front * base^exponent` with a constant front; `inner` is that of the base."""
    # through `factored`, so that a base which is itself a power is raised as one
    lowered = Factored(coefficient=fraction(1, 1), powers=((base, exponent - 1),)).tree()
    return arranged(product(rational(exponent), front, lowered, inner), variable)


def _of_power(base: Expression, exponent: Expression, variable: Symbol) -> Expression:
    base_slope, exponent_slope = _derivative(base, variable), _derivative(exponent, variable)
    number = as_fraction(exponent)
    if number is not None:
        if number == 0 or base_slope == _ZERO:
            return _ZERO
        return _times_power(_ONE, base, base_slope, number, variable)
    whole = Power(base, exponent)
    if exponent_slope == _ZERO:
        lowered = Power(base, sum_of(exponent, rational(-1)))
        return _ZERO if base_slope == _ZERO else arranged(product(exponent, lowered, base_slope), variable)
    logarithm = (exponent_slope,) if base == E else (ln(base), exponent_slope)
    if base_slope == _ZERO:
        return arranged(product(*logarithm, whole), variable)
    rates = (product(*logarithm), arranged(Quotient(product(exponent, base_slope), base), variable))
    return product(whole, sum_of(*rates))


def _of_root(radicand: Expression, index: int, variable: Symbol) -> Expression:
    inner = _derivative(radicand, variable)
    if inner == _ZERO:
        return _ZERO
    root = Root(radicand, index)
    under = root if index == 2 else Power(root, Integer(index - 1))
    return arranged(Quotient(inner, product(Integer(index), under)), variable)


def _of_function(function: str, argument: Expression, variable: Symbol) -> Expression:
    if function == "ln" and isinstance(argument, Apply) and argument.function == "abs":
        # the modulus only widens the domain: ln|g| has the derivative g'/g as ln g has
        argument = argument.argument
    inner = _derivative(argument, variable)
    if inner == _ZERO:
        return _ZERO
    outer = _OUTER[function](argument)
    return arranged(product(inner, outer), variable)


def _square(tree: Expression) -> Expression:
    """The square: `e^(2x)` of `e^x`, `x^4` of `x^2`, `x` of `sqrt(x)`, and with a bracket of anything else."""
    match tree:
        case Power(base, exponent) if base == E or as_monomial(tree) is not None:
            return Power(base, scaled(2, exponent))
        case Root(radicand, 2):
            return radicand
        case _:
            return Power(tree, Integer(2))


def _pair(sign: int, first: str, second: str) -> Callable[[Expression], Expression]:
    return lambda u: product(rational(sign), Apply(first, u), Apply(second, u))


def _squared(sign: int, name: str) -> Callable[[Expression], Expression]:
    return lambda u: product(rational(sign), _square(Apply(name, u)))


def _over(sign: int, under: Callable[[Expression], Expression]) -> Callable[[Expression], Expression]:
    return lambda u: Quotient(rational(sign), under(u))


def _modulus(u: Expression) -> Expression:
    return Apply("abs", u)


#: the derivative of each function at its argument
_OUTER: dict[str, Callable[[Expression], Expression]] = {
    "sin": lambda u: Apply("cos", u),
    "cos": lambda u: Negate(Apply("sin", u)),
    "tan": _squared(1, "sec"),
    "sec": _pair(1, "sec", "tan"),
    "cosec": _pair(-1, "cosec", "cot"),
    "cot": _squared(-1, "cosec"),
    "arcsin": _over(1, lambda u: sqrt(1 - _square(u))),
    "arccos": _over(-1, lambda u: sqrt(1 - _square(u))),
    "arctan": _over(1, lambda u: 1 + _square(u)),
    "arcsec": _over(1, lambda u: _modulus(u) * sqrt(_square(u) - 1)),
    "arccosec": _over(-1, lambda u: _modulus(u) * sqrt(_square(u) - 1)),
    "arccot": _over(-1, lambda u: 1 + _square(u)),
    "sinh": lambda u: Apply("cosh", u),
    "cosh": lambda u: Apply("sinh", u),
    "tanh": _squared(1, "sech"),
    "sech": _pair(-1, "sech", "tanh"),
    "cosech": _pair(-1, "cosech", "coth"),
    "coth": _squared(-1, "cosech"),
    "arsinh": _over(1, lambda u: sqrt(_square(u) + 1)),
    "arcosh": _over(1, lambda u: sqrt(_square(u) - 1)),
    "artanh": _over(1, lambda u: 1 - _square(u)),
    "arsech": _over(-1, lambda u: u * sqrt(1 - _square(u))),
    "arcosech": _over(-1, lambda u: _modulus(u) * sqrt(_square(u) + 1)),
    "arcoth": _over(1, lambda u: 1 - _square(u)),
    "exp": lambda u: Apply("exp", u),
    "ln": lambda u: Quotient(_ONE, u),
    "abs": lambda u: Quotient(u, _modulus(u)),
}
