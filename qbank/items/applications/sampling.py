"""A curve as smooth pieces: places on it with their slopes, and the Bezier curves between them.

Values are rigorous and rounded correctly to a few digits, so that they are the same on every machine. Two places with
their slopes make a cubic (Hermite); its Bezier points lie a third of the way along the tangents.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from qbank.maths.derivative import derivative
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression, Symbol

__all__ = ["Node", "bends", "decimal", "sampled", "strays"]

_DIGITS = 8
#: digits of places along the axis
_FINE = 12

Pair = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Node:
    """A place on a curve; the slope is None where it is vertical or has none."""

    x: Fraction
    y: Fraction
    slope: Fraction | None

    def mirrored(self) -> Node:
        """The place on the other side of the axis."""
        return Node(self.x, -self.y, None if self.slope is None else -self.slope)


def decimal(constant: Expression) -> Fraction:
    """A constant to a few digits; 0 for what has no value."""
    found = enclose(constant, at={}, digits=_FINE)
    return Fraction(0) if found is None else Fraction(found.decimal)


def sampled(
    tree: Expression,
    variable: Symbol,
    start: Expression | Fraction,
    end: Expression | Fraction,
    pieces: int,
) -> tuple[Node, ...]:
    """Places on a curve from one end to the other, denser towards the ends; those without a value are left out.

    Args:
        tree: the function.
        variable: its letter.
        start: the first place; an exact constant is also put into the function exactly.
        end: the last place.
        pieces: how many pieces there are between the places.
    """
    slope = derivative(tree, variable)
    first, last = (decimal(end) if isinstance(end, Expression) else end for end in (start, end))
    found = []
    for number in range(pieces + 1):
        share = Fraction(number, pieces)
        place = first + (last - first) * share * share * (3 - 2 * share)
        exact = {0: start, pieces: end}.get(number)
        node = _node((tree, slope), variable, place, exact if isinstance(exact, Expression) else None)
        if node is not None:
            found.append(node)
    return tuple(found)


def _node(
    trees: tuple[Expression, Expression], variable: Symbol, place: Fraction, exact: Expression | None
) -> Node | None:
    """A place on a curve, from its function and the derivative of that, whose zeros are seen to be zeros."""
    tree, slope = trees
    if exact is None:
        value = enclose(tree, at={variable: place}, digits=_DIGITS)
    else:
        value = enclose(tree.substitute({variable: exact}), at={}, digits=_DIGITS)
    if value is None:
        return None
    rate = enclose(slope, at={variable: place}, digits=_DIGITS)
    return Node(place, Fraction(value.decimal), None if rate is None else Fraction(rate.decimal))


def strays(tree: Expression, variable: Symbol, one: Node, other: Node) -> Fraction | None:
    """How far the cubic between two places is from the curve halfway; None where the curve has no value there."""
    middle = enclose(tree, at={variable: (one.x + other.x) / 2}, digits=_DIGITS)
    if middle is None or one.slope is None or other.slope is None:
        return None
    drawn = (one.y + other.y) / 2 + (other.x - one.x) * (one.slope - other.slope) / 8
    return abs(drawn - Fraction(middle.decimal))


def bends(nodes: Sequence[Node]) -> Iterator[tuple[Pair, Pair, Pair]]:
    """The Bezier curves from each place to the next: two guiding points and the end.

    >>> zero, one = Fraction(0), Fraction(1)
    >>> [(first, second, end)] = bends([Node(zero, zero, one), Node(one, one, one)])
    >>> first == (Fraction(1, 3), Fraction(1, 3)), second == (Fraction(2, 3), Fraction(2, 3))
    (True, True)
    """
    for one, other in pairwise(nodes):
        step = other.x - one.x
        if one.slope is not None and other.slope is not None:
            first = (one.x + step / 3, one.y + one.slope * step / 3)
            second = (other.x - step / 3, other.y - other.slope * step / 3)
        elif one.slope is None and other.slope is None:
            rise = other.y - one.y
            first = (one.x + step / 3, one.y + rise / 3)
            second = (other.x - step / 3, other.y - rise / 3)
        else:
            # a vertical tangent at one end: both guiding points towards where the tangents meet
            steep, flat = (one, other) if one.slope is None else (other, one)
            corner = (steep.x, flat.y + (flat.slope or Fraction(0)) * (steep.x - flat.x))
            first, second = _towards(one, corner), _towards(other, corner)
        yield first, second, (other.x, other.y)


def _towards(node: Node, corner: Pair) -> Pair:
    """Two thirds of the way from a place to a corner."""
    return node.x + (corner[0] - node.x) * 2 / 3, node.y + (corner[1] - node.y) * 2 / 3
