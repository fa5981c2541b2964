"""Tidy: what a teacher does without thinking, and nothing more.

Folds numbers (`2*3*x` to `6x`), drops `1*`, `+ 0`, `^1`, pulls minus signs out of products and quotients, and
puts a polynomial in order. It never expands, factorises or uses an identity, so the shape of an answer stays.

>>> from qbank.maths.expression import Symbol, sin
>>> x = Symbol("x")
>>> tidy(1 * x + 0)
Symbol(name='x')
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import isqrt

from qbank.maths.expression import (
    Apply,
    Decimal,
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
    as_fraction,
    fraction,
    opposite,
    product,
    rational,
    sum_of,
)
from qbank.maths.polynomial import as_monomial, polynomial_tree

__all__ = ["WITH_COEFFICIENT", "in_front_of", "scaled", "split_coefficient", "tidy"]

#: a power of numbers is folded only while the result has at most this many bits
_BIT_LIMIT = 256

#: trees of which it is remembered what they are when tidied: those of the integrals at work just now
_REMEMBERED = 4096

#: the number 1, its tree, and that of 0
_ONE, _ONE_TREE, _ZERO_TREE = fraction(1, 1), Integer(1), Integer(0)

#: kinds of trees that may have a rational factor in front
WITH_COEFFICIENT = frozenset({Negate, Product, Quotient, Integer, Decimal})


@lru_cache(maxsize=_REMEMBERED)
def tidy(tree: Expression) -> Expression:
    """The same expression with numbers folded, empty factors and terms dropped, signs merged, polynomials ordered.

    Args:
        tree: any expression.

    Returns:
        An expression equal to `tree` wherever that is defined; tidying twice changes nothing more.
    """
    tree = tree.rebuild(tidy)
    match tree:
        case Sum(terms):
            return _sum(terms)
        case Product() | Quotient():
            return _scaled_form(tree)
        case Negate(operand):
            return _negated(operand)
        case Power(base, exponent):
            return _power(base, exponent)
        case Root(radicand, 2):
            return _square_root(tree, as_fraction(radicand))
        case Apply("ln", Integer(1)):
            return Integer(0)
        case _:
            return tree


def split_coefficient(tree: Expression) -> tuple[Fraction, Expression]:
    """The rational factor in front, and the rest: `-3/2 sin x` gives `(-3/2, sin x)`; a number gives `(n, 1)`.

    Numbers below a fraction line count too: `x/2` gives `(1/2, x)`.
    """
    # a rest of 1 is always the same object, and so is a coefficient of 1 that nothing was done to
    if type(tree) not in WITH_COEFFICIENT:
        return _ONE, tree
    match tree:
        case Negate(operand):
            coefficient, rest = split_coefficient(operand)
            return -coefficient, rest
        case Product(factors):
            coefficient, kept, same = _ONE, [], True
            for factor in factors:
                part, rest = split_coefficient(factor)
                if part is not _ONE:
                    coefficient = part if coefficient is _ONE else coefficient * part
                if rest is not _ONE_TREE:
                    kept.append(rest)
                same = same and rest is factor and not isinstance(rest, Product)
            if same and len(kept) == len(factors):
                return coefficient, tree
            return coefficient, product(*kept) if kept else _ONE_TREE
        case Quotient(Integer(over), Integer(under)) if under:
            return fraction(over, under), _ONE_TREE
        case Quotient(numerator, denominator):
            above, top = split_coefficient(numerator)
            below, bottom = split_coefficient(denominator)
            if not below:
                return _ONE, tree
            if bottom is _ONE_TREE:
                rest = top
            else:
                rest = tree if top is numerator and bottom is denominator else Quotient(top, bottom)
            return above if below is _ONE else above / below, rest
        case Integer(value):
            return fraction(value, 1), _ONE_TREE
        case _:
            assert isinstance(tree, Decimal)
            return tree.value, _ONE_TREE


def scaled(coefficient: Fraction | int, rest: Expression) -> Expression:
    """`coefficient * rest` as written by hand: no factor 1, the minus sign outside, a fraction in front.

    >>> from qbank.maths.expression import Symbol
    >>> scaled(-1, Symbol("x"))
    Negate(operand=Symbol(name='x'))
    """
    inner, body = split_coefficient(rest)
    return in_front_of(
        inner if coefficient is _ONE else coefficient if inner is _ONE else coefficient * inner, body
    )


def in_front_of(value: Fraction | int, body: Expression) -> Expression:
    """A number in front of what has none."""
    if value is _ONE:
        return body
    over, under = value.numerator, value.denominator
    if not over or body is _ONE_TREE:
        return rational(value)
    if under == 1 and abs(over) == 1:
        return body if over > 0 else Negate(body)
    return _front(value, body) if over > 0 else Negate(_front(-value, body))


def _front(size: Fraction | int, body: Expression) -> Expression:
    """A number in front; inside a fraction it joins the numerator and the denominator: `2/(3x)`, not `2/3 * 1/x`."""
    if isinstance(body, Quotient):
        over = _times(Integer(size.numerator), body.numerator)
        return Quotient(over, _times(Integer(size.denominator), body.denominator))
    if isinstance(body, Product) and isinstance(body.factors[0], Quotient):
        # `2/sqrt(3) arctan x` keeps its one fraction in front
        return product(_front(size, body.factors[0]), *body.factors[1:])
    return product(rational(size), body)


def _times(number: Integer, rest: Expression) -> Expression:
    if number.value == 1:
        return rest
    return number if rest is _ONE_TREE else product(number, rest)


def _scaled_form(tree: Product | Quotient) -> Expression:
    coefficient, rest = split_coefficient(tree)
    under = coefficient.denominator
    if under != 1 and isinstance(tree, Quotient) and not isinstance(rest, Quotient):
        # `x/2` was written as one fraction and stays one
        if rest is _ONE_TREE:
            return rational(coefficient)
        over = coefficient.numerator
        whole = Quotient(_times(Integer(abs(over)), rest), Integer(under))
        return Negate(whole) if over < 0 else whole
    return in_front_of(coefficient, rest)


def _negated(operand: Expression) -> Expression:
    return operand if operand == _ZERO_TREE else opposite(operand)


def _sum(terms: tuple[Expression, ...]) -> Expression:
    flat = sum_of(*terms)
    if not isinstance(flat, Sum):
        return flat
    ordered = _ordered_polynomial(flat.terms)
    if ordered is not None:
        return ordered
    total, place, kept = fraction(0, 1), None, []
    for term in flat.terms:
        number = as_fraction(term)
        if number is None:
            kept.append(term)
        else:
            place = len(kept) if place is None else place
            total += number
    if total and place is not None:
        kept.insert(place, rational(total))
    return sum_of(*kept)


def _ordered_polynomial(terms: tuple[Expression, ...]) -> Expression | None:
    """The terms in order with like powers joined, when all are monomials in one letter; else None."""
    found: dict[int, Fraction] = {}
    letters: set[Symbol] = set()
    for term in terms:
        monomial = as_monomial(term)
        if monomial is None:
            return None
        coefficient, letter, degree = monomial
        found[degree] = found.get(degree, fraction(0, 1)) + coefficient
        if letter is not None:
            letters.add(letter)
    if len(letters) != 1:
        return None
    return polynomial_tree(tuple(found.get(n, fraction(0, 1)) for n in range(max(found) + 1)), letters.pop())


def _power(base: Expression, exponent: Expression) -> Expression:
    power = as_fraction(exponent)
    if power is None:
        return Power(base, exponent)
    if power == 1:
        return base
    number = as_fraction(base)
    if power == 0 and (number or base == E):
        return Integer(1)
    if number is not None and power.denominator == 1 and (number or power > 0):
        bits = max(number.numerator.bit_length(), number.denominator.bit_length())
        if bits * abs(power) <= _BIT_LIMIT:
            return rational(number ** int(power))
    return Power(base, exponent)


def _square_root(tree: Root, number: Fraction | None) -> Expression:
    if number is None or number < 0:
        return tree
    over, under = isqrt(number.numerator), isqrt(number.denominator)
    exact = over * over == number.numerator and under * under == number.denominator
    return rational(Fraction(over, under)) if exact else tree
