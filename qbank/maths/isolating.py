"""The zeros of a function on an interval, isolated by balls and recognised as exact numbers.

A piece of the interval is a ball of numbers. Where the ball of values leaves 0 out, the piece has no zero; where the
ball of slopes does, it has one at most, and the signs at its ends say whether it has one. Else the piece is halved.
What a zero is exactly is guessed from its decimals and then proved: rational numbers, rational multiples of pi, square
roots and logarithms of rational numbers.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from flint import arb

from qbank.maths.balls import Balls, precision, to_ball
from qbank.maths.deciding import decide_equal
from qbank.maths.enclosing import enclose
from qbank.maths.exact_values import exact_value
from qbank.maths.expression import PI, Expression, Integer, Symbol, difference, fraction, ln, rational, sqrt
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled, Undefined
from qbank.maths.points import Side, slope_side, value_side
from qbank.maths.verdict import Proved

__all__ = ["isolated_zeros"]

_BITS = 128
#: how often a piece is halved
_DEPTH = 12
#: halvings until a zero is known to as many digits as recognising it takes
_STEPS = 90
#: denominators of numbers that are recognised
_LARGEST = 60
_NEAR = Fraction(1, 10**20)
#: logarithms of larger numbers are not recognised
_LARGEST_LOGARITHM = 40


def isolated_zeros(
    tree: Expression, variable: Symbol, lower: Expression, upper: Expression
) -> tuple[Expression, ...] | None:
    """All zeros on a closed interval, some perhaps twice; None when they could not all be found.

    Args:
        tree: a function of the variable alone, continuous on the interval.
        variable: the letter.
        lower: the smaller end.
        upper: the larger end.

    >>> from qbank.maths.expression import exp
    >>> x = Symbol("x")
    >>> isolated_zeros(exp(x) - 3, x, Integer(0), Integer(2)) == (ln(Integer(3)),)
    True
    """
    return _Search(tree, variable, lower, upper).zeros()


class _Search:
    """One function on one interval, whose places are told by their share of the way through."""

    def __init__(self, tree: Expression, variable: Symbol, lower: Expression, upper: Expression) -> None:
        self._tree = tree
        self._variable = variable
        self._ends = (lower, upper)
        self._value, self._slope = value_side(tree), slope_side(tree)

    def zeros(self) -> tuple[Expression, ...] | None:
        found: list[Expression] = []
        left = [(fraction(0, 1), fraction(1, 1), _DEPTH)]
        with precision(_BITS):
            start, end = (value_side(one)(Walk(Balls({}), self._variable, {})) for one in self._ends)
            self._start, self._width = start, end - start
            while left:
                first, last, depth = left.pop()
                if self._sign(self._value, first, last):
                    continue
                if self._sign(self._slope, first, last):
                    zero = self._only_zero(first, last)
                    if zero is None:
                        return None
                    found += zero
                elif not depth:
                    return None
                else:
                    middle = (first + last) / 2
                    left += [(middle, last, depth - 1), (first, middle, depth - 1)]
        return tuple(found)

    def _sign(self, side: Side, first: Fraction, last: Fraction) -> int:
        """The sign of all values on a piece; 0 where they may have none."""
        middle = (first + last) / 2
        share = to_ball(middle) + arb(0, to_ball((last - first) / 2).upper())
        ball = self._ball(side, self._start + self._width * share)
        if ball is None or not ball.is_finite():
            return 0
        return 1 if ball > 0 else -1 if ball < 0 else 0

    def _ball(self, side: Side, place: Any) -> Any:
        try:
            return side(Walk(Balls({self._variable.name: place}), self._variable, {}))
        except (NotSettled, Undefined):
            return None

    def _only_zero(self, first: Fraction, last: Fraction) -> list[Expression] | None:
        """The zero of a monotone piece, if it has one; None when that cannot be told."""
        signs = {end: self._sign(self._value, end, end) for end in (first, last)}
        for end, sign in signs.items():
            if not sign:
                place = self._at(end)
                return [place] if self._is_zero(place) else None
        if signs[first] == signs[last]:
            return []
        low, high = first, last
        for _ in range(_STEPS):
            middle = (low + high) / 2
            sign = self._sign(self._value, middle, middle)
            if not sign:
                break
            low, high = (middle, high) if sign == signs[first] else (low, middle)
        about = self._number((low + high) / 2)
        for guess in _guesses(about):
            near = enclose(guess, at={}, digits=30)
            if near is not None and abs(near.lower - about) < _NEAR and self._is_zero(guess):
                return [guess]
        return None

    def _number(self, share: Fraction) -> Fraction:
        return _middle(self._start + self._width * to_ball(share))

    def _at(self, share: Fraction) -> Expression:
        lower, upper = self._ends
        if share in (0, 1):
            return upper if share else lower
        return exact_value(lower + rational(share) * difference(upper, lower))

    def _is_zero(self, place: Expression) -> bool:
        value = self._tree.substitute({self._variable: place})
        return isinstance(decide_equal(value, Integer(0), self._variable), Proved)


def _guesses(place: Fraction) -> Iterator[Expression]:
    """Exact numbers that have these decimals, the simplest kinds first."""
    with precision(_BITS):
        ball = to_ball(place)
        angle, square = _middle(ball / arb.pi()), _middle(ball * ball)
        # the power of a large number would be a fraction of very many digits
        power = _middle(ball.exp()) if abs(place) < _LARGEST_LOGARITHM else None
    plain, turns, below = (_short(number) for number in (place, angle, square))
    inside = None if power is None else _short(power)
    if plain is not None:
        yield rational(plain)
    if turns:
        yield exact_value(rational(turns) * PI)
    if below:
        yield sqrt(rational(below)) if place > 0 else -sqrt(rational(below))
    if inside:
        yield ln(rational(inside)) if inside > 1 else -ln(rational(1 / inside))


def _middle(ball: Any) -> Fraction:
    mantissa, exponent = (int(part) for part in ball.mid().man_exp())
    return Fraction(mantissa) * fraction(2, 1) ** exponent


def _short(number: Fraction) -> Fraction | None:
    near = number.limit_denominator(_LARGEST)
    return near if abs(near - number) < _NEAR else None
