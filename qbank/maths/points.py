"""Two sides of an identity compared at one point, in rigorous balls of rising precision."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from flint import ctx

from qbank.maths.balls import Blurred
from qbank.maths.expression import Expression, Integral, Negate, Product, Sum, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import Undefined
from qbank.maths.tape import Tape

__all__ = ["PRECISIONS", "Comparison", "Side", "Sides", "formula_side", "slope_side", "value_side"]

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
        return walk.numbers.bounded(walk.value(tree))

    return side


def slope_side(tree: Expression) -> Side:
    """The derivative of a tree as a side; at a point, the tree itself has to have a value too."""

    def side(walk: Walk[Any]) -> Any:
        if walk.numbers.pointwise:
            _touch(walk, tree)
        slope = walk.slope(tree)
        return walk.numbers.number(0) if slope is None else walk.numbers.bounded(slope)

    return side


def formula_side(tree: Expression) -> Side:
    """The derivative of a tree as a formula, whether or not the tree has a value."""

    def side(walk: Walk[Any]) -> Any:
        slope = walk.slope(tree)
        return walk.numbers.number(0) if slope is None else walk.numbers.bounded(slope)

    return side


def _touch(walk: Walk[Any], tree: Expression) -> None:
    """Make sure that a line of working has a value; an integral still to be done has one where its integrand has."""
    if isinstance(tree, Sum | Negate | Product):
        for part in tree.children:
            _touch(walk, part)
    elif isinstance(tree, Integral) and tree.lower is None:
        walk.value(tree.integrand)
    else:
        walk.numbers.bounded(walk.value(tree))


class Sides:
    """The two sides of an identity, recorded once, to be compared at many points.

    Args:
        left: one side.
        right: the other; its real domain is the one that counts.
        variable: the letter to differentiate by.
        bindings: letters that stand for expressions.

    Raises:
        NotSettled: when a side cannot be evaluated at all.
    """

    def __init__(
        self, left: Side, right: Side, variable: Symbol, bindings: Mapping[Symbol, Expression]
    ) -> None:
        self._tape = Tape()
        walk = Walk(self._tape, variable, bindings)
        self._right: int = right(walk).place
        self._middle = len(self._tape)
        self._left: int = left(walk).place
        self._end = len(self._tape)

    def compare(self, letters: Mapping[str, Fraction], *, enough: int = 30) -> Comparison:
        """Compare the sides at a point.

        Args:
            letters: the point, with the values of all other letters.
            enough: `agree` is said when this many bits agree.
        """
        before, last = ctx.prec, SKIPPED
        try:
            for bits in PRECISIONS:
                ctx.prec = bits
                found = self._once(letters, bits)
                if found is None:
                    continue
                if found.outcome != "agree":
                    return found
                last = found
                if _accurate(found.left, enough) and _accurate(found.right, enough):
                    return found
            return last if last.outcome == "agree" and _accurate(last.left, enough) else SKIPPED
        finally:
            ctx.prec = before

    def _once(self, letters: Mapping[str, Fraction], bits: int) -> Comparison | None:
        """One comparison; None when more bits are needed."""
        tape = self._tape
        results = tape.start(letters, bits)
        try:
            tape.run(results, 0, self._middle)
        except Undefined:
            return SKIPPED
        except Blurred:
            return None
        right = results[self._right]
        try:
            tape.run(results, self._middle, self._end)
        except Undefined:
            return Comparison(outcome="left undefined", right=right)
        except Blurred:
            return None
        left = results[self._left]
        return Comparison(outcome="agree" if left.overlaps(right) else "differ", left=left, right=right)


def _accurate(ball: Any, bits: int) -> bool:
    """Whether a ball is known to so many bits, or is zero as far as can be seen."""
    return bool(ball.rel_accuracy_bits() >= bits or ball.rad() < 0.5**bits)
