"""Two sides of an identity compared at one point, in rigorous balls of rising precision."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cached_property, lru_cache
from typing import Any, Literal, NamedTuple, TypeAlias

from flint import ctx

from qbank.maths.balls import Balls, Blurred
from qbank.maths.expression import Decimal, Expression, Integer, Integral, Negate, Product, Sum, Symbol
from qbank.maths.forward import Walk
from qbank.maths.frozen import frozen
from qbank.maths.number_system import Undefined
from qbank.maths.real_domain import asks_no_more
from qbank.maths.samples import Point
from qbank.maths.tape import Tape

__all__ = ["PRECISIONS", "Comparison", "Side", "Sides", "as_formula", "slope_side", "value_side"]

#: bits tried in turn at a point
PRECISIONS = (64, 128, 256, 512)

#: one side of an identity: what it is, asked of a walk
Side: TypeAlias = "_Value"

#: right sides that are remembered, and points of each of them: a class answers one question many times
_RIGHT_SIDES = 64
#: points that are walked to before a walk is recorded
_WALKS = 3
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


@frozen(eq=False)
class _Value:
    """The value of a tree as a side.

    Sides are equal when they are of the same object, so that to remember one does not cost a walk over its tree.
    """

    tree: Expression

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and other.tree is self.tree

    def __hash__(self) -> int:
        return id(self.tree)

    def __call__(self, walk: Walk[Any]) -> Any:
        return walk.numbers.bounded(walk.value(self.tree))


class _Formula(_Value):
    """The derivative of a tree as a side, whether or not the tree has a value."""

    __slots__ = ()

    def __call__(self, walk: Walk[Any]) -> Any:
        slope = walk.slope(self.tree)
        return walk.numbers.number(0) if slope is None else walk.numbers.bounded(slope)


class _Slope(_Formula):
    """The derivative of a tree as a side, where the tree has a value."""

    __slots__ = ()

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


def as_formula(side: Side) -> Side | None:
    """The derivative that a side is as a formula, whether or not the tree has a value; None for the value of a tree."""
    return _Formula(side.tree) if isinstance(side, _Slope) else None


def _touch(walk: Walk[Any], tree: Expression) -> None:
    """Make sure that a line of working has a value; an integral still to be done has one where its integrand has."""
    kind = type(tree)
    if kind in _MADE_OF_PARTS:
        for part in tree.children:
            _touch(walk, part)
    elif kind in _WITH_VALUES:
        return
    elif isinstance(tree, Integral) and tree.lower is None:
        walk.value(tree.integrand)
    else:
        walk.numbers.bounded(walk.value(tree))


#: kinds of trees that have a value where all their parts have, and those that have one everywhere
_MADE_OF_PARTS = frozenset({Sum, Negate, Product})
_WITH_VALUES = frozenset({Integer, Decimal})


class _RightSide:
    """The right side of an identity, with its results at the points where it was asked for.

    At the first point it is walked; for more points the walk is recorded, once, and replayed.
    """

    def __init__(self, side: Side, variable: Symbol, bindings: Mapping[Symbol, Expression]) -> None:
        self.tree = side.tree
        self._given = side, variable, bindings
        self._walked: dict[tuple[Point, int], _Walked] = {}
        self._seen: dict[tuple[Point, int], list[Any] | Comparison | None] = {}

    def walked(self, point: Point, bits: int) -> _Walked:
        """The side walked at a point."""
        found = self._walked.get((point, bits))
        if found is None:
            found = _walked(*self._given, point, bits)
            if len(self._walked) < _POINTS:
                self._walked[point, bits] = found
        return found

    @cached_property
    def recorded(self) -> tuple[Tape, int]:
        """The walk on a tape, and the place of its result."""
        side, variable, bindings = self._given
        tape = Tape()
        return tape, side(Walk(tape, variable, bindings)).place

    def at(self, point: Point, bits: int) -> list[Any] | Comparison | None:
        """All results of the tape at a point; `SKIPPED` where there is no value, None when more bits are needed."""
        key = (point, bits)
        if key in self._seen:
            return self._seen[key]
        found = self._run(point, bits)
        if len(self._seen) < _POINTS:
            self._seen[key] = found
        return found

    def _run(self, point: Point, bits: int) -> list[Any] | Comparison | None:
        tape, _ = self.recorded
        results = tape.start(point, bits)
        try:
            tape.run(results)
        except Undefined:
            return SKIPPED
        except Blurred:
            return None
        return results


class _Walked(NamedTuple):
    """A side walked at a point.

    Attributes:
        outcome: `undefined` without a value, `blurred` when more bits are needed.
        ball: the value, where there is one.
        is_smooth: whether the side was seen to be a smooth function with values at all points but single ones.
    """

    outcome: Literal["value", "undefined", "blurred"]
    ball: Any = None
    is_smooth: bool = False


def _walked(
    side: Side, variable: Symbol, bindings: Mapping[Symbol, Expression], point: Point, bits: int
) -> _Walked:
    """A side walked at a point, at the working precision."""
    balls = Balls(point.balls(bits))
    try:
        ball = side(Walk(balls, variable, bindings))
    except Undefined:
        return _Walked("undefined")
    except Blurred:
        return _Walked("blurred")
    return _Walked("value", ball, balls.is_nearly_total) if ball.is_finite() else _Walked("blurred")


@lru_cache(maxsize=_RIGHT_SIDES)
def _right_side(side: Side, variable: Symbol, bindings: tuple[tuple[Symbol, Expression], ...]) -> _RightSide:
    return _RightSide(side, variable, dict(bindings))


class Sides:
    """The two sides of an identity, to be compared at many points.

    Most questions are settled after one point with values, so only for a second one is the walk over the sides recorded.

    Args:
        left: one side.
        right: the other; its real domain is the one that counts.
        variable: the letter to differentiate by.
        bindings: letters that stand for expressions.
    """

    def __init__(
        self, left: Side, right: Side, variable: Symbol, bindings: Mapping[Symbol, Expression]
    ) -> None:
        self._given = left, variable, bindings
        # an integrand without the letters of a substitution is the same in every line
        bound = () if bindings.keys().isdisjoint(right.tree.symbols()) else tuple(bindings.items())
        self._right = _right_side(right, variable, bound)
        self._walks = 0
        self._is_smooth: bool | None = None

    @property
    def are_smooth(self) -> bool:
        """Whether both sides are smooth functions with values at all points but single ones, by how they are made."""
        if self._is_smooth is None:
            self._is_smooth = self._right.recorded[0].is_nearly_total and self._recorded[0].is_nearly_total
        return self._is_smooth

    @property
    def left_has_values(self) -> bool:
        """Whether the left side has a value wherever the right one has, single points apart, by how they are made.

        What may be undefined on the left has then been worked out on the right: a root, or a logarithm, in both.
        """
        if self._is_smooth:
            return True
        left, _, bindings = self._given
        trees = left.tree, self._right.tree
        as_written = not any(bindings.keys() & tree.symbols() for tree in trees)
        return (as_written and asks_no_more(*trees)) or self._recorded[0].is_nearly_total

    def compare(self, letters: Point | Mapping[str, Fraction], *, enough: int = 30) -> Comparison:
        """Compare the sides at a point.

        Args:
            letters: the values of all letters.
            enough: `agree` is said when this many bits agree.

        Raises:
            NotSettled: when a side cannot be evaluated at all.
        """
        point = letters if isinstance(letters, Point) else Point(letters)
        before, last = ctx.prec, SKIPPED
        # the left side is walked once; the right one is known where it was asked for before, if that was not often
        is_new = self._is_smooth is None and self._walks < _WALKS
        self._walks += is_new
        once = self._walked if is_new else self._replayed
        try:
            for bits in PRECISIONS:
                ctx.prec = bits
                found = once(point, bits)
                once = self._replayed
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

    def _walked(self, point: Point, bits: int) -> Comparison | None:
        """One comparison by walking both sides; None when more bits are needed."""
        right = self._right.walked(point, bits)
        if right.outcome != "value":
            return SKIPPED if right.outcome == "undefined" else None
        left = _walked(*self._given, point, bits)
        if left.outcome != "value":
            return Comparison("left undefined", right=right.ball) if left.outcome == "undefined" else None
        self._is_smooth = left.is_smooth and right.is_smooth
        return _compared(left.ball, right.ball)

    def _replayed(self, point: Point, bits: int) -> Comparison | None:
        """One comparison by the tape; None when more bits are needed."""
        earlier = self._right.at(point, bits)
        if not isinstance(earlier, list):
            return earlier
        right = earlier[self._right.recorded[1]]
        tape, place = self._recorded
        results = tape.start(point, bits, earlier)
        try:
            tape.run(results)
        except Undefined:
            return Comparison("left undefined", right=right)
        except Blurred:
            return None
        left = results[place]
        if not (left.is_finite() and right.is_finite()):
            return None
        return _compared(left, right)

    @cached_property
    def _recorded(self) -> tuple[Tape, int]:
        """The walk over the left side on a tape that goes on from that of the right one, and the place of its result."""
        left, variable, bindings = self._given
        tape = self._right.recorded[0].fork()
        return tape, left(Walk(tape, variable, bindings)).place


def _compared(left: Any, right: Any) -> Comparison:
    return Comparison("agree" if left.overlaps(right) else "differ", left, right)


def _accurate(ball: Any, bits: int) -> bool:
    """Whether a ball is known to so many bits, or is zero as far as can be seen."""
    return bool(ball.rel_accuracy_bits() >= bits or ball.rad() < 0.5**bits)
