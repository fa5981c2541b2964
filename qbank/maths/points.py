"""Two sides of an identity compared at one point, in rigorous balls of rising precision."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Any, Literal, NamedTuple

from flint import ctx

from qbank.maths.balls import Blurred
from qbank.maths.expression import Expression, Integral, Negate, Product, Sum, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import Undefined
from qbank.maths.samples import Point
from qbank.maths.tape import Tape

__all__ = ["PRECISIONS", "Comparison", "Side", "Sides", "formula_side", "slope_side", "value_side"]

#: bits tried in turn at a point
PRECISIONS = (64, 128, 256, 512)

#: what one side of an identity is, asked of a walk
Side = Callable[[Walk[Any]], Any]

#: right sides that are remembered, and points of each of them: a class answers one question many times
_RIGHT_SIDES = 64
_POINTS = 64


class Comparison(NamedTuple):
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


SKIPPED = Comparison("skipped")


@dataclass(frozen=True, slots=True)
class _Value:
    """The value of a tree as a side."""

    tree: Expression

    def __call__(self, walk: Walk[Any]) -> Any:
        return walk.numbers.bounded(walk.value(self.tree))


@dataclass(frozen=True, slots=True)
class _Formula:
    """The derivative of a tree as a side, whether or not the tree has a value."""

    tree: Expression

    def __call__(self, walk: Walk[Any]) -> Any:
        slope = walk.slope(self.tree)
        return walk.numbers.number(0) if slope is None else walk.numbers.bounded(slope)


@dataclass(frozen=True, slots=True)
class _Slope(_Formula):
    """The derivative of a tree as a side, where the tree has a value."""

    def __call__(self, walk: Walk[Any]) -> Any:
        if walk.numbers.pointwise:
            _touch(walk, self.tree)
        return _Formula.__call__(self, walk)


def value_side(tree: Expression) -> Side:
    """The value of a tree as a side."""
    return _Value(tree)


def slope_side(tree: Expression) -> Side:
    """The derivative of a tree as a side; at a point, the tree itself has to have a value too."""
    return _Slope(tree)


def formula_side(tree: Expression) -> Side:
    """The derivative of a tree as a formula, whether or not the tree has a value."""
    return _Formula(tree)


def _touch(walk: Walk[Any], tree: Expression) -> None:
    """Make sure that a line of working has a value; an integral still to be done has one where its integrand has."""
    if isinstance(tree, Sum | Negate | Product):
        for part in tree.children:
            _touch(walk, part)
    elif isinstance(tree, Integral) and tree.lower is None:
        walk.value(tree.integrand)
    else:
        walk.numbers.bounded(walk.value(tree))


class _RightSide:
    """The right side of an identity, recorded once, with its results at the points where it was asked for."""

    def __init__(self, side: Side, variable: Symbol, bindings: Mapping[Symbol, Expression]) -> None:
        self.tape = Tape()
        self.place: int = side(Walk(self.tape, variable, bindings)).place
        self._seen: dict[tuple[Point, int], list[Any] | Comparison | None] = {}

    def at(self, point: Point, bits: int) -> list[Any] | Comparison | None:
        """The results at a point; `SKIPPED` where there is no value, None when more bits are needed."""
        key = (point, bits)
        if key in self._seen:
            return self._seen[key]
        found = self._run(point, bits)
        if len(self._seen) < _POINTS:
            self._seen[key] = found
        return found

    def _run(self, point: Point, bits: int) -> list[Any] | Comparison | None:
        results = self.tape.start(point, bits)
        try:
            self.tape.run(results)
        except Undefined:
            return SKIPPED
        except Blurred:
            return None
        return results


@lru_cache(maxsize=_RIGHT_SIDES)
def _right_side(side: Side, variable: Symbol, bindings: tuple[tuple[Symbol, Expression], ...]) -> _RightSide:
    return _RightSide(side, variable, dict(bindings))


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
        self._right = _right_side(right, variable, tuple(bindings.items()))
        self._tape = self._right.tape.fork()
        self._left: int = left(Walk(self._tape, variable, bindings)).place

    @property
    def are_smooth(self) -> bool:
        """Whether both sides are smooth functions with values at all points but single ones, by how they are made."""
        return self._right.tape.is_nearly_total and self._tape.is_nearly_total

    def compare(self, letters: Point | Mapping[str, Fraction], *, enough: int = 30) -> Comparison:
        """Compare the sides at a point.

        Args:
            letters: the values of all letters.
            enough: `agree` is said when this many bits agree.
        """
        point = letters if isinstance(letters, Point) else Point(letters)
        before, last = ctx.prec, SKIPPED
        try:
            for bits in PRECISIONS:
                ctx.prec = bits
                found = self._once(point, bits)
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

    def _once(self, point: Point, bits: int) -> Comparison | None:
        """One comparison; None when more bits are needed."""
        earlier = self._right.at(point, bits)
        if not isinstance(earlier, list):
            return earlier
        right = earlier[self._right.place]
        results = self._tape.start(point, bits, earlier)
        try:
            self._tape.run(results)
        except Undefined:
            return Comparison("left undefined", right=right)
        except Blurred:
            return None
        left = results[self._left]
        if not (left.is_finite() and right.is_finite()):
            return None
        return Comparison("agree" if left.overlaps(right) else "differ", left, right)


def _accurate(ball: Any, bits: int) -> bool:
    """Whether a ball is known to so many bits, or is zero as far as can be seen."""
    return bool(ball.rel_accuracy_bits() >= bits or ball.rad() < 0.5**bits)
