"""A product as it was written, seen as a number times powers of different bases.

`-3 sin^2 x cos x / sqrt(x)` is `-3` times `(sin x)^2 (cos x)^1 x^(-1/2)`. Quotients become negative exponents,
roots fractional ones; the order of first appearance is kept. Nothing is expanded or factorised.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from qbank.maths.expression import (
    Decimal,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    as_fraction,
    fraction,
    product,
    rational,
)
from qbank.maths.frozen import frozen
from qbank.maths.tidying import WITH_COEFFICIENT, in_front_of, scaled, tidy

__all__ = ["Factored", "factored", "power_tree"]

_ONE, _HALF = fraction(1, 1), fraction(1, 2)

#: kinds of trees that may be taken apart
_OF_PARTS = frozenset({Product, Quotient, Negate, Power, Root})

#: kinds of trees that may be numbers
_NUMBERS = frozenset({Integer, Decimal, Negate, Quotient})

#: trees of which it is remembered how they are seen
_REMEMBERED = 1024


@frozen(kw_only=True)
class Factored:
    """A number times powers of distinct bases.

    Attributes:
        coefficient: the rational number in front.
        powers: pairs of a base and its rational exponent (never 0), in order of first appearance. A power with
            an exponent that is not a rational number (`e^x`, `2^x`) is a base of its own with exponent 1.
    """

    coefficient: Fraction
    powers: tuple[tuple[Expression, Fraction], ...]

    def exponent(self, base: Expression) -> Fraction:
        """The exponent of one base, 0 when it does not occur."""
        return dict(self.powers).get(base, fraction(0, 1))

    def without(self, *bases: Expression) -> Factored:
        """The same product with some bases left out."""
        kept = tuple(pair for pair in self.powers if pair[0] not in bases)
        return Factored(coefficient=self.coefficient, powers=kept)

    def tree(self) -> Expression:
        """Written again: one fraction line, bases with negative exponents below it."""
        above, below = list[Expression](), list[Expression]()
        bare = True
        for base, n in self.powers:
            if n is _ONE:
                above.append(base)
            elif n.numerator > 0:
                above.append(power_tree(base, n))
            else:
                below.append(power_tree(base, -n))
            bare = bare and type(base) not in WITH_COEFFICIENT
        over = product(*above)
        body = Quotient(over, product(*below)) if below else over
        return in_front_of(self.coefficient, body) if bare else scaled(self.coefficient, body)


@lru_cache(maxsize=_REMEMBERED)
def factored(tree: Expression) -> Factored:
    """See a tree as a number times powers of distinct bases.

    >>> from qbank.maths.expression import Symbol, sin, sqrt
    >>> x = Symbol("x")
    >>> seen = factored(3 * sin(x) ** 2 / sqrt(x))
    >>> seen.coefficient, seen.exponent(sin(x)), seen.exponent(x)
    (Fraction(3, 1), Fraction(2, 1), Fraction(-1, 2))
    """
    coefficient, powers = _ONE, dict[Expression, Fraction]()
    parts = list[tuple[Expression, Fraction]]()
    _take_apart(tidy(tree), _ONE, parts)
    for base, exponent in parts:
        number = as_fraction(base) if type(base) in _NUMBERS else None
        if number and exponent is _ONE:
            coefficient = number if coefficient is _ONE else coefficient * number
        elif number and exponent.denominator == 1 and abs(exponent) <= 64:
            coefficient *= number ** int(exponent)
        elif number == 0 and exponent > 0:
            return Factored(coefficient=fraction(0, 1), powers=())
        else:
            before = powers.get(base)
            powers[base] = exponent if before is None else before + exponent
    return Factored(
        coefficient=coefficient, powers=tuple([pair for pair in powers.items() if pair[1].numerator])
    )


def _take_apart(tree: Expression, exponent: Fraction, into: list[tuple[Expression, Fraction]]) -> None:
    """Put the bases of a power of a tree, with their exponents, into a list."""
    # a product of negative factors has a root, the factors have none: it stays whole
    if type(tree) not in _OF_PARTS or exponent.denominator != 1:
        into.append((tree, exponent))
        return
    match tree:
        case Product(factors):
            for factor in factors:
                _take_apart(factor, exponent, into)
        case Quotient(numerator, denominator):
            _take_apart(numerator, exponent, into)
            _take_apart(denominator, -exponent, into)
        case Negate(operand):
            into.append((Integer(1) if exponent.numerator % 2 == 0 else rational(-1), _ONE))
            _take_apart(operand, exponent, into)
        case Power(base, inner) if base != E and (n := as_fraction(inner)) is not None:
            _take_apart(base, n if exponent is _ONE else n * exponent, into)
        case Root(radicand, index):
            into.append((radicand, exponent / index))
        case _:
            into.append((tree, exponent))


def power_tree(base: Expression, exponent: Fraction) -> Expression:
    """`base^exponent` as written by hand: no exponent 1, a square root for 1/2, a reciprocal for a negative one."""
    if exponent is _ONE or exponent == 1:
        return base
    if exponent.numerator < 0:
        return Quotient(Integer(1), power_tree(base, -exponent))
    if exponent == _HALF:
        return Root(base)
    return Power(base, rational(exponent))
