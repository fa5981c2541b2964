"""Two sides of an identity compared at one point, in rigorous balls of rising precision."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from qbank.maths.balls import Balls, Blurred, precision, to_ball
from qbank.maths.expression import Expression, Integral, Negate, Product, Sum, Symbol
from qbank.maths.forward import Undefined, Walk

__all__ = ["PRECISIONS", "Comparison", "Side", "compare", "slope_side", "value_side"]

#: bits tried in turn at a point
PRECISIONS = (64, 128, 256, 512)

#: what one side of an identity is, asked of a walk
Side = Callable[[Walk[Any]], Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """What happened at a point.

    Attributes:
        outcome: `agree` and `differ` where both sides have a value; `left undefined` where only the right side
            has; `skipped` where the right side has none or nothing can be told.
        left: the ball of the left side, where there is one.
        right: the ball of the right side, where there is one.
    """

    outcome: Literal["agree", "differ", "left undefined", "skipped"]
    left: Any = None
    right: Any = None


SKIPPED = Comparison(outcome="skipped")


def value_side(tree: Expression) -> Side:
    """The value of a tree as a side."""

    def side(walk: Walk[Any]) -> Any:
        return walk.value(tree)

    return side


def slope_side(tree: Expression) -> Side:
    """The derivative of a tree as a side; the tree itself has to have a value too."""

    def side(walk: Walk[Any]) -> Any:
        if isinstance(walk.numbers, Balls):
            _touch(walk, tree)
        slope = walk.slope(tree)
        return walk.numbers.number(Fraction(0)) if slope is None else slope

    return side


def _touch(walk: Walk[Any], tree: Expression) -> None:
    """Make sure that a line of working has a value; an integral still to be done has one where its integrand has."""
    if isinstance(tree, Sum | Negate | Product):
        for part in tree.children:
            _touch(walk, part)
    elif isinstance(tree, Integral) and tree.lower is None:
        walk.value(tree.integrand)
    elif not walk.value(tree).is_finite():
        raise Blurred("a division by zero, or too wide a ball")


def compare(
    left: Side,
    right: Side,
    letters: Mapping[str, Fraction],
    variable: Symbol,
    bindings: Mapping[Symbol, Expression],
    *,
    most_bits: int = PRECISIONS[-1],
    enough: int = 30,
) -> Comparison:
    """Compare two sides at a point.

    Args:
        left: one side.
        right: the other; its real domain is the one that counts.
        letters: the point, with the values of all other letters.
        variable: the letter to differentiate by.
        bindings: letters that stand for expressions.
        most_bits: the highest precision to try.
        enough: `agree` is said when this many bits agree.

    Raises:
        NotSettled: when a side cannot be evaluated at all.
    """
    last = SKIPPED
    for bits in PRECISIONS:
        if bits > most_bits:
            break
        with precision(bits):
            walk = Walk(Balls({name: to_ball(value) for name, value in letters.items()}), variable, bindings)
            try:
                there = _finite(right(walk))
            except Undefined:
                return SKIPPED
            except Blurred:
                continue
            try:
                here = _finite(left(walk))
            except Undefined:
                return Comparison(outcome="left undefined", right=there)
            except Blurred:
                continue
            if not here.overlaps(there):
                return Comparison(outcome="differ", left=here, right=there)
            last = Comparison(outcome="agree", left=here, right=there)
            if min(here.rel_accuracy_bits(), there.rel_accuracy_bits()) >= enough or _both_tiny(
                here, there, enough
            ):
                return last
    return last if last.outcome == "agree" and _both_tiny(last.left, last.right, enough) else SKIPPED


def _finite(ball: Any) -> Any:
    if ball.is_finite():
        return ball
    raise Blurred("a division by zero, or too wide a ball")


def _both_tiny(left: Any, right: Any, bits: int) -> bool:
    """Whether both are zero as far as can be seen (an identity 0 = 0 has no relative accuracy)."""
    bound = 0.5**bits
    return bool(abs(left) < bound and abs(right) < bound and left.rad() < bound and right.rad() < bound)
