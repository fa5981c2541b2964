"""Constant factors: the number, the letters and the surds in front of what depends on the variable.

    3 pi x^2 / (a sqrt(2))    constant 3 pi a^-1 2^(-1/2),  moving x^2

A constant is a `Factored`: it can be multiplied, divided and written in front of an answer without any algebra.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from qbank.maths.expression import Expression, Integer, Negate, Quotient, Symbol, fraction, product
from qbank.maths.factors import Factored, factored, power_tree
from qbank.maths.tidying import scaled

__all__ = ["ONE", "before_integral", "in_front", "number", "over", "split_constant", "times"]

_NUMBER = fraction(1, 1)
ONE = Factored(coefficient=_NUMBER, powers=())
_ONE_TREE = Integer(1)

#: trees of which it is remembered how they are split
_REMEMBERED = 1024


def number(value: Fraction | int) -> Factored:
    """A rational number as a constant factor."""
    return Factored(coefficient=fraction(value, 1) if isinstance(value, int) else value, powers=())


@lru_cache(maxsize=_REMEMBERED)
def split_constant(tree: Expression, variable: Symbol) -> tuple[Factored, Factored]:
    """The constant factor of a tree, and the rest with the number 1 in front.

    >>> from qbank.maths.expression import PI
    >>> x = Symbol("x")
    >>> constant, moving = split_constant(3 * PI * x**2, x)
    >>> constant.tree() == 3 * PI, moving.tree() == x**2
    (True, True)
    """
    seen = factored(tree)
    fixed, moving = list[tuple[Expression, Fraction]](), list[tuple[Expression, Fraction]]()
    for pair in seen.powers:
        (moving if variable in pair[0].symbols() else fixed).append(pair)
    return (
        Factored(coefficient=seen.coefficient, powers=tuple(fixed)),
        Factored(coefficient=_NUMBER, powers=tuple(moving)),
    )


def times(*parts: Factored) -> Factored:
    """The product; equal bases are joined, and the number 0 takes everything with it.

    >>> times(number(3), over(number(2))).coefficient
    Fraction(3, 2)
    """
    coefficient = _NUMBER
    for part in parts:
        if part.coefficient is not _NUMBER:
            coefficient = part.coefficient if coefficient is _NUMBER else coefficient * part.coefficient
    with_powers = [part.powers for part in parts if part.powers] if coefficient.numerator else []
    if len(with_powers) < 2:
        return Factored(coefficient=coefficient, powers=with_powers[0] if with_powers else ())
    powers = dict(with_powers[0])
    for more in with_powers[1:]:
        for base, exponent in more:
            before = powers.get(base)
            powers[base] = exponent if before is None else before + exponent
    return Factored(
        coefficient=coefficient, powers=tuple([pair for pair in powers.items() if pair[1].numerator])
    )


def over(part: Factored) -> Factored:
    """One over a constant whose number is not 0."""
    if part.coefficient is _NUMBER and not part.powers:
        return ONE
    powers = tuple([(base, -exponent) for base, exponent in part.powers])
    return Factored(coefficient=1 / part.coefficient, powers=powers)


def in_front(constant: Factored, body: Expression) -> Expression:
    """A constant in front of something, in one hand: `2/3 sin x`, `sin(pi x)/pi`, `-3/(2(x + 1))`.

    >>> in_front(number(-1), Symbol("x")) == -Symbol("x")
    True
    """
    top, bottom = (body.numerator, body.denominator) if isinstance(body, Quotient) else (body, _ONE_TREE)
    if constant.powers and bottom != _ONE_TREE:
        constant, bottom = _joined_below(constant, bottom)
    above = [power_tree(base, n) for base, n in constant.powers if n.numerator > 0]
    below = [power_tree(base, -n) for base, n in constant.powers if n.numerator < 0]
    if top != _ONE_TREE:
        above.append(top)
    if bottom != _ONE_TREE:
        below.append(bottom)
    numerator = product(*above)
    return scaled(constant.coefficient, Quotient(numerator, product(*below)) if below else numerator)


def _joined_below(constant: Factored, bottom: Expression) -> tuple[Factored, Expression]:
    """What stands in the constant and in a denominator, taken into the constant: `1/(a a)` is `1/a^2`."""
    bases = {base for base, _ in constant.powers}
    seen = factored(bottom)
    shared = tuple(pair for pair in seen.powers if pair[0] in bases)
    if not shared:
        return constant, bottom
    return (
        times(constant, over(Factored(coefficient=_NUMBER, powers=shared))),
        seen.without(*(base for base, _ in shared)).tree(),
    )


def before_integral(constant: Factored, integral: Expression) -> Expression:
    """A constant before an integral still to be done, as a factor of its own: `1/(2a) int u du`.

    A bracket that holds integrals, or a letter for one, may stand for the integral.
    """
    size = Factored(coefficient=abs(constant.coefficient), powers=constant.powers).tree()
    whole = integral if size == _ONE_TREE else product(size, integral)
    return Negate(whole) if constant.coefficient < 0 else whole
