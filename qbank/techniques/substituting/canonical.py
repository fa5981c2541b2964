"""Products in one form, for comparing only: never shown.

    tan^2 x, sec x         powers of sin x and cos x
    e^(3x), e^-x           powers of e^x
    4x^3 - 4x              4, x and x^2 - 1
    1 + x, x + 1           one order of terms

Two products are the same up to a constant when their powers agree.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import ONE, number, times
from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Integer,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.surds import square_root
from qbank.maths.tidying import scaled, split_coefficient
from qbank.techniques.standard.standard_functions import FUNCTION_POWERS

__all__ = ["canonical", "ordered", "sums_divided"]


#: numbers are not raised to larger powers here
_POWER_LIMIT = 128

#: trees and powers of which it is remembered what becomes of them: parts of one integrand are looked at again and again
_REMEMBERED = 2048


@lru_cache(maxsize=_REMEMBERED)
def ordered(tree: Expression) -> Expression:
    """The tree with the terms of every sum in one order, and with `exp` and square roots written as powers.

    >>> x = Symbol("x")
    >>> ordered(1 + x) == ordered(x + 1)
    True
    """
    tree = tree.rebuild(ordered)
    match tree:
        case Sum(terms):
            return sum_of(*_in_order(map(_monomial, terms)))
        case Apply("exp", argument):
            return Power(E, argument)
        case _:
            return tree


def _monomial(term: Expression) -> Expression:
    """`(2x)^2`, which a derivative may hold, as `4x^2`, and the factors of a product in one order; other terms as they are."""
    body = split_coefficient(term)[1]
    if isinstance(body, Product):
        seen = factored(term)
        return Factored(coefficient=seen.coefficient, powers=tuple(sorted(seen.powers, key=_place))).tree()
    if isinstance(body, Power) and isinstance(body.base, (Product, Quotient)):
        seen = factored(term)
        if len(seen.powers) == 1 and isinstance(seen.powers[0][0], Symbol):
            return seen.tree()
    return term


#: the kinds of factors in the order of writing; those not listed come before
_KINDS: dict[type[Expression], int] = {Root: 1, Power: 2, Sum: 3, Apply: 4}


def _place(power: tuple[Expression, Fraction]) -> tuple[int, str]:
    """By which factors are put in order: their kinds, and for equal ones what they are."""
    return _KINDS.get(type(power[0]), 0), repr(power)


def _in_order(terms: Iterable[Expression]) -> list[Expression]:
    """By what they are as text, their numbers last; that begins with the kind, which mostly is enough."""
    parts = [(*split_coefficient(term), term) for term in terms]
    kinds = [type(body).__name__ for _, body, _ in parts]
    if len(set(kinds)) < len(kinds):
        kinds = [repr(body) for _, body, _ in parts]
    keyed = sorted(zip(kinds, parts, strict=True), key=lambda one: (one[0], str(one[1][0])))
    return [term for _, (_, _, term) in keyed]


@lru_cache(maxsize=_REMEMBERED)
def canonical(tree: Expression, variable: Symbol) -> Factored:
    """A tree with ordered sums as a product in the form for comparing; constants, and sums, stay as they are.

    >>> from qbank.maths.expression import sin, tan
    >>> x = Symbol("x")
    >>> canonical(tan(x) ** 2, x).exponent(sin(x))
    Fraction(2, 1)
    """
    seen = factored(tree)
    return times(number(seen.coefficient), *_parts(seen, variable))


def sums_divided(seen: Factored, variable: Symbol, wanted: frozenset[Expression] | None = None) -> Factored:
    """Each sum without its number, and without its power of the variable, in front: `4x^3 - 4x` is 4 x (x^2 - 1).

    Args:
        seen: a product as `canonical` gives it.
        variable: the variable.
        wanted: only sums that have one of these among their parts are touched; all of them when not given.
    """
    if not any(isinstance(base, Sum) for base, _ in seen.powers):
        return seen
    parts = [number(seen.coefficient)]
    for base, exponent in seen.powers:
        whole = _divided_sum(base, exponent, variable) if isinstance(base, Sum) else None
        if whole is None or not (wanted is None or any(part in wanted for part, _ in whole.powers)):
            whole = _one(base, exponent)
        parts.append(whole)
    return times(*parts)


@lru_cache(maxsize=_REMEMBERED)
def _divided_sum(base: Sum, exponent: Fraction, variable: Symbol) -> Factored | None:
    """A power of a sum divided; None for a constant."""
    if variable not in base.symbols():
        return None
    if _is_small(exponent):
        return times(*_sum(base, exponent, variable))
    return _polynomial_under_root(base, exponent, variable)


def _parts(seen: Factored, variable: Symbol) -> Iterator[Factored]:
    for written, exponent in seen.powers:
        # once more in order: seeing the product tidied it
        base = ordered(written)
        if variable not in base.symbols():
            yield _one(base, exponent)
            continue
        match base:
            case Apply(function, argument) if function in FUNCTION_POWERS and exponent.denominator == 1:
                yield from _function(function, argument, exponent)
            case Power(constant, Sum(terms)) if constant == E and any(map(_has_exponential, terms)):
                # e^(e^x + x) is e^(e^x) times e^x
                for term in terms:
                    rate, body = split_coefficient(term)
                    yield _one(Power(E, body), exponent * rate)
            case Apply("abs", argument) if exponent.denominator == 1:
                # |x/2| is |x|/2
                size, body = split_coefficient(argument)
                yield number(abs(size) ** int(exponent)) if size and _is_small(exponent) else number(1)
                yield _one(Apply("abs", body) if size and _is_small(exponent) else base, exponent)
            case Power(constant, inner) if variable not in constant.symbols():
                rate, body = split_coefficient(inner)
                yield _one(Power(constant, body), exponent * rate)
            case _:
                yield _one(base, exponent)


def _has_exponential(tree: Expression) -> bool:
    return any(isinstance(node, Power) and node.base == E for node in tree.walk())


def _is_small(exponent: Fraction) -> bool:
    """Whether a number may be raised to it here: whole, and no larger than an exercise has."""
    return exponent.denominator == 1 and abs(exponent) <= _POWER_LIMIT


def _one(base: Expression, exponent: Fraction) -> Factored:
    return Factored(coefficient=ONE.coefficient, powers=((base, exponent),))


def _function(function: str, argument: Expression, exponent: Fraction) -> Iterator[Factored]:
    kind, sine, cosine = FUNCTION_POWERS[function]
    names = ("sin", "cos") if kind == "circular" else ("sinh", "cosh")
    for name, n in zip(names, (sine, cosine), strict=True):
        if n:
            yield _one(Apply(name, argument), n * exponent)


def _sum(base: Sum, exponent: Fraction, variable: Symbol) -> Iterator[Factored]:
    powers = _power_sum(base, variable)
    if powers is None:
        shared, terms = _shared(base.terms, variable)
        for part, n in shared:
            yield _one(part, n * exponent)
        sizes = (split_coefficient(term)[0] for term in terms if shared or variable in term.symbols())
        lead = next((size for size in sizes if size), fraction(1, 1))
    else:
        low, lead = min(powers), powers[max(powers)]
        if low:
            yield _one(variable, low * exponent)
        terms = tuple(
            times(number(c), _one(variable, n - low) if n != low else number(1)).tree()
            for n, c in sorted(powers.items())
        )
    yield number(lead ** int(exponent))
    rest = sum_of(*_in_order(_divided(term, lead) for term in terms))
    if rest != Integer(1):
        yield _one(rest, exponent)


def _shared(
    terms: tuple[Expression, ...], variable: Symbol
) -> tuple[tuple[tuple[Expression, Fraction], ...], tuple[Expression, ...]]:
    """The powers that all terms of a sum share, and the terms without them: `e^x + x e^x` is e^x (1 + x)."""
    seen = [factored(term) for term in terms]
    least = {base: n for base, n in seen[0].powers if n > 0 and variable in base.symbols()}
    for other in seen[1:]:
        found = dict(other.powers)
        least = {base: min(n, found[base]) for base, n in least.items() if found.get(base, 0) > 0}
    if not least:
        return (), terms
    shared = tuple(least.items())
    below = Factored(coefficient=fraction(1, 1), powers=tuple((base, -n) for base, n in shared))
    return shared, tuple(times(one, below).tree() for one in seen)


def _polynomial_under_root(base: Sum, exponent: Fraction, variable: Symbol) -> Factored:
    """A power of a polynomial with the size of its first number in front, where its root is a number too.

    The sign stays under the root: 1 - x^2/4 is (4 - x^2)/4.
    """
    whole = as_polynomial(base, variable)
    root = square_root(abs(whole[-1])) if whole else None
    if not whole or root is None or root.radicand != 1:
        return _one(base, exponent)
    if exponent.denominator != 2 or abs(exponent) > _POWER_LIMIT:
        return _one(base, exponent)
    size = root.rational
    rest = ordered(polynomial_tree(tuple(c / size**2 for c in whole), variable))
    return times(number(size ** int(2 * exponent)), _one(rest, exponent))


def _power_sum(base: Sum, variable: Symbol) -> dict[Fraction, Fraction] | None:
    """A sum of powers of the variable with numbers in front, as exponents with their numbers; else None."""
    whole = as_polynomial(base, variable)
    if whole is not None:
        return {fraction(n, 1): c for n, c in enumerate(whole) if c} or None
    found: dict[Fraction, Fraction] = {}
    for term in base.terms:
        seen = factored(term)
        if any(part != variable for part, _ in seen.powers):
            return None
        power = seen.exponent(variable)
        found[power] = found.get(power, fraction(0, 1)) + seen.coefficient
    kept = {n: c for n, c in found.items() if c}
    return kept or None


def _divided(term: Expression, by: Fraction) -> Expression:
    size, body = split_coefficient(term)
    return scaled(size / by, body)
