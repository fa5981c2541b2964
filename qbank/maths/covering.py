"""Whether an expression has a value at every place of an interval, shown by covering the interval with balls.

A ball of numbers goes through the expression at once; where every operation is certainly defined for all of them and
the result is bounded, the expression has a value everywhere in the ball, and is continuous there. Where that cannot be
seen the ball is halved, a few times only: near a pole it is never seen.
"""

from __future__ import annotations

from fractions import Fraction

from flint import arb

from qbank.maths.balls import Balls, precision, to_ball
from qbank.maths.expression import Expression, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled, Undefined
from qbank.maths.points import value_side

__all__ = ["defined_between"]

_BITS = 64
#: how often a piece is halved
_DEPTH = 8


def defined_between(tree: Expression, variable: Symbol, lower: Fraction, upper: Fraction) -> bool:
    """Whether it is certain that an expression is defined and continuous on a closed interval.

    Args:
        tree: a function of the variable alone.
        variable: the letter.
        lower: the smaller end.
        upper: the larger end.

    Returns:
        True when it was shown; False says nothing.

    >>> x = Symbol("x")
    >>> defined_between(1 / x, x, Fraction(1, 2), Fraction(3))
    True
    >>> defined_between(1 / x, x, Fraction(-1, 2), Fraction(3))
    False
    """
    side, left = value_side(tree), [(lower, upper, _DEPTH)]
    with precision(_BITS):
        while left:
            start, end, depth = left.pop()
            middle = (start + end) / 2
            # the radius is rounded up, so that the ball holds the whole piece
            ball = to_ball(middle) + arb(0, to_ball((end - start) / 2).upper())
            try:
                walk = Walk(Balls({variable.name: ball}), variable, {})
                certain = side(walk).is_finite()
            except Undefined:
                return False
            except NotSettled:
                certain = False
            if not certain:
                if not depth:
                    return False
                left += [(middle, end, depth - 1), (start, middle, depth - 1)]
    return True
