"""Where a function is zero on an interval, exactly and without one left out, and its sign in between.

    tree --> factors --> rational:     its numerator factorised over the rational numbers
                     --> in one root:  the polynomial that the root taken as a letter makes of it
                     --> otherwise:    pieces halved until each is free of zeros or monotone, the zeros then recognised

A zero is an exact expression, and is proved to be one. Where one is not recognised, there is no answer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from qbank.maths.enclosing import enclose
from qbank.maths.exact_values import exact_value
from qbank.maths.expression import (
    Apply,
    Expression,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    difference,
    product,
    rational,
    sum_of,
)
from qbank.maths.isolating import isolated_zeros
from qbank.maths.polynomial import as_linear, as_polynomial
from qbank.maths.polynomial_zeros import polynomial_zeros
from qbank.maths.positivity import never_negative

__all__ = ["Signs", "ZerosUnknown", "real_zeros", "signs_between", "zeros_from_to"]

_DIGITS = 30


class ZerosUnknown(Exception):  # noqa: N818 - a refusal is an answer, not an error
    """The zeros could not all be found exactly; the text says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Signs:
    """The sign of a function on an interval.

    Attributes:
        places: where it may change, in order, strictly inside the interval.
        signs: 1 or -1 for each stretch between them, one more than there are places. Neighbours may be the same.
    """

    places: tuple[Expression, ...]
    signs: tuple[int, ...]

    def merged(self) -> Signs:
        """The same, without places at which the sign stays.

        >>> Signs(places=(rational(1), rational(2)), signs=(1, 1, -1)).merged()
        Signs(places=(Integer(value=2),), signs=(1, -1))
        """
        kept = [at for at, (one, following) in enumerate(pairwise(self.signs)) if one != following]
        signs = (self.signs[0], *(self.signs[at + 1] for at in kept))
        return Signs(places=tuple(self.places[at] for at in kept), signs=signs)


def real_zeros(tree: Expression, variable: Symbol) -> tuple[Expression, ...]:
    """All real zeros of a rational function, or of one of a square root and the variable, in order.

    Args:
        tree: a function of the variable alone.
        variable: the letter.

    Raises:
        ZerosUnknown: it is not of that kind, or a zero has no closed form here.

    >>> x = Symbol("x")
    >>> real_zeros(x**3 - 4 * x, x) == (rational(-2), rational(0), rational(2))
    True
    """
    return _distinct(_zeros(tree, variable, None))


def zeros_from_to(
    tree: Expression, variable: Symbol, lower: Expression, upper: Expression
) -> tuple[Expression, ...]:
    """All zeros of a continuous function on a closed interval, its ends included, in order.

    Args:
        tree: a function of the variable alone, defined and continuous on the interval.
        variable: the letter.
        lower: the smaller end, a constant.
        upper: the larger end, a constant.

    Raises:
        ZerosUnknown: they could not all be found.

    >>> from qbank.maths.expression import PI, cos, sin
    >>> x = Symbol("x")
    >>> zeros_from_to(sin(x) - cos(x), x, rational(0), PI) == (PI / 4,)
    True
    """
    inside = (zero for zero in _zeros(tree, variable, (lower, upper)) if _within(zero, lower, upper))
    return _distinct(inside)


def signs_between(tree: Expression, variable: Symbol, lower: Expression, upper: Expression) -> Signs:
    """The sign of a continuous function on an interval.

    Args:
        tree: a function of the variable alone, defined and continuous on the interval.
        variable: the letter.
        lower: the smaller end, a constant.
        upper: the larger end, a constant.

    Raises:
        ZerosUnknown: it could not be told everywhere.

    >>> x = Symbol("x")
    >>> signs_between(x**2 - 2, x, rational(0), rational(2)).signs
    (-1, 1)
    """
    for sign, side in ((1, tree), (-1, Negate(tree))):
        if never_negative(side):
            return Signs(places=(), signs=(sign,))
    zeros = zeros_from_to(tree, variable, lower, upper)
    inside = tuple(zero for zero in zeros if _below(lower, zero) and _below(zero, upper))
    ends = (lower, *inside, upper)
    return Signs(places=inside, signs=tuple(_sign(tree, variable, *pair) for pair in pairwise(ends)))


def _zeros(
    tree: Expression, variable: Symbol, stretch: tuple[Expression, Expression] | None
) -> Iterator[Expression]:
    """The zeros, each as often as it is found; on a stretch some beyond its ends may be among them."""
    if as_fraction(tree) == 0:
        raise ZerosUnknown("the function is zero everywhere")
    coefficients = as_polynomial(tree, variable)
    if coefficients is not None:
        yield from _of_polynomial(coefficients, stretch)
        return
    match tree:
        case Negate(operand):
            yield from _zeros(operand, variable, stretch)
        case Product(factors):
            for factor in factors:
                yield from _zeros(factor, variable, stretch)
        case Quotient(numerator, _):
            yield from _zeros(numerator, variable, stretch)
        case Power(base, exponent) if (as_fraction(exponent) or 0) > 0:
            yield from _zeros(base, variable, stretch)
        case Root(radicand, _):
            yield from _zeros(radicand, variable, stretch)
        case Apply("exp" | "cosh" | "sech" | "sec" | "cosec", _):
            return
        case Power() if never_negative(tree):
            return  # of a positive base, with a number or a letter above it
        case _ if not tree.symbols():
            return
        case _:
            yield from _otherwise(tree, variable, stretch)


def _of_polynomial(
    coefficients: tuple[Fraction, ...], stretch: tuple[Expression, Expression] | None
) -> tuple[Expression, ...]:
    if not coefficients:
        raise ZerosUnknown("the function is zero everywhere")
    zeros = polynomial_zeros(coefficients, None if stretch is None else _outside(*stretch))
    if zeros is None:
        raise ZerosUnknown("a place where the curves meet has no closed form")
    return zeros


def _otherwise(
    tree: Expression, variable: Symbol, stretch: tuple[Expression, Expression] | None
) -> Iterator[Expression]:
    over = _over_and_under(tree)
    coefficients = None if over is None else as_polynomial(over[0], variable)
    if coefficients:
        for zero in _of_polynomial(coefficients, stretch):
            # what was multiplied by may be zero there too
            if enclose(tree.substitute({variable: zero}), at={}) is not None:
                yield zero
        return
    in_root = _in_one_root(tree, variable)
    if in_root is not None:
        coefficients, (slope, shift) = in_root
        for root in _of_polynomial(coefficients, None):
            if not _below(root, rational(0)):
                yield exact_value((root**2 - rational(shift)) / rational(slope))
        return
    if stretch is None:
        raise ZerosUnknown("it is not certain that the curves meet nowhere else")
    found = isolated_zeros(tree, variable, *stretch)
    if found is None:
        raise ZerosUnknown("the places where the curves meet could not all be found")
    yield from found


def _over_and_under(tree: Expression) -> tuple[Expression, Expression] | None:
    """Sums and powers of quotients as one quotient; None for anything else."""
    match tree:
        case Quotient(numerator, denominator):
            return numerator, denominator
        case Negate(operand):
            inner = _over_and_under(operand)
            return None if inner is None else (Negate(inner[0]), inner[1])
        case Sum(terms):
            parts = [_over_and_under(term) or (term, rational(1)) for term in terms]
            under = product(*(below for _, below in parts))
            tops = (
                product(above, *(below for at, (_, below) in enumerate(parts) if at != place))
                for place, (above, _) in enumerate(parts)
            )
            return sum_of(*tops), under
        case Power(Quotient(numerator, denominator), exponent):
            return Power(numerator, exponent), Power(denominator, exponent)
        case _:
            return None


def _in_one_root(
    tree: Expression, variable: Symbol
) -> tuple[tuple[Fraction, ...], tuple[Fraction, Fraction]] | None:
    """A function of one square root of `ax + b` and of x, as a polynomial in the root taken as a letter."""
    roots = {node for node in tree.walk() if isinstance(node, Root) and variable in node.symbols()}
    if len(roots) != 1:
        return None
    (root,) = roots
    line = as_linear(root.radicand, variable)
    if line is None or root.index != 2:
        return None
    slope, shift = line
    letter = Symbol("_root")
    in_letter = tree.replaced(root, letter).substitute(
        {variable: (letter**2 - rational(shift)) / rational(slope)}
    )
    coefficients = as_polynomial(in_letter, letter)
    return None if not coefficients else (coefficients, line)


def _outside(lower: Expression, upper: Expression) -> tuple[Fraction, Fraction]:
    low, high = enclose(lower, at={}, digits=_DIGITS), enclose(upper, at={}, digits=_DIGITS)
    if low is None or high is None:
        raise ZerosUnknown("an end of the interval is not a number")
    return low.lower, high.upper


def _sign(tree: Expression, variable: Symbol, lower: Expression, upper: Expression) -> int:
    """The sign at one place of a stretch that has no zero inside."""
    low, high = _outside(lower, upper)
    place = ((low + high) / 2).limit_denominator(max(64, int(64 / (high - low))))
    value = enclose(tree, at={variable: place})
    if value is None or value.lower <= 0 <= value.upper:
        raise ZerosUnknown("the sign between two places could not be told")
    return 1 if value.lower > 0 else -1


def _below(left: Expression, right: Expression) -> bool:
    """Whether one constant is smaller than another; the same number is not."""
    gap = enclose(difference(right, left), at={}, digits=_DIGITS)
    if gap is None:
        raise ZerosUnknown("two places could not be told apart")
    return gap.lower > 0


def _within(zero: Expression, lower: Expression, upper: Expression) -> bool:
    return not _below(zero, lower) and not _below(upper, zero)


def _distinct(zeros: Iterator[Expression]) -> tuple[Expression, ...]:
    """In order, each once."""
    found: list[Expression] = []
    for zero in zeros:
        place = 0
        while place < len(found) and _below(found[place], zero):
            place += 1
        if place == len(found) or _below(zero, found[place]):
            found.insert(place, zero)
    return tuple(found)
