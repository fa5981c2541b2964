"""The lines of a picture: curves, the region, where it ends, and the solid that it becomes when it is turned."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from qbank.items.applications.figure import Path, Place, Role, Step, Stroke
from qbank.items.applications.frame import Frame
from qbank.items.applications.sampling import Node, decimal, sampled, strays
from qbank.maths.expression import Expression, Symbol
from qbank.techniques.applications.asked import SetUp

__all__ = ["Outline"]

#: pieces of a curve between two places, at least and at most, and beyond the limits
_PIECES, _MOST, _BEYOND = 14, 56, 5
#: how far the axis goes beyond the limits, and the window above and below the curves, as parts of their size
_ASIDE, _ABOVE = Fraction(1, 5), Fraction(1, 7)
#: the vertical axis is shown where it lies at most so far outside the limits, as a part of their distance
_NEAR = Fraction(3, 5)
#: a curve drawn is at most one part of so many of the window away from the true one
_TRUE = 500
#: half the width of a circle seen nearly from its side, in hundredths of a pixel
_RIM = 600
#: the guiding points of a quarter of a circle, as a part of its radius
_QUARTER = Fraction(5523, 10000)
#: a rim smaller than this part of the window is left out
_TINY = 40


class Outline:
    """The curves of a question as they are drawn.

    Args:
        plan: the question with its limits.

    Attributes:
        plan: the same.
        stretches: for each curve, its places between the limits, stretch by stretch.
        frame: what is shown.
        curves: for each curve, its places in the whole window.
    """

    def __init__(self, plan: SetUp) -> None:
        self.plan = plan
        x = plan.asked.variable
        self.stretches = [
            [_fine(curve, x, part.lower, part.upper) for part in plan.parts] for curve in plan.asked.curves
        ]
        self.frame = self._framed()
        self.curves = [self._whole(number) for number in range(len(self.stretches))]

    @property
    def solid(self) -> bool:
        """Whether the region is turned."""
        return self.plan.asked.kind == "volume"

    @property
    def measured(self) -> bool:
        """Whether it is the curve itself that counts, and not a region."""
        return self.plan.asked.kind == "arc-length"

    def _framed(self) -> Frame:
        start, end = (decimal(limit) for limit in self.plan.limits)
        heights = [node.y for curve in self.stretches for stretch in curve for node in stretch]
        heights.append(Fraction(0))
        if self.solid:
            heights += [-height for height in heights]
        low, high = min(heights), max(heights)
        size, length = high - low or Fraction(1), end - start
        left, right = start - length * _ASIDE, end + length * _ASIDE
        if 0 < start <= length * _NEAR:
            left = -length * _ASIDE
        if 0 < -end <= length * _NEAR:
            right = length * _ASIDE
        return Frame(left, right, low - size * _ABOVE, high + size * _ABOVE)

    def _whole(self, number: int) -> list[Node]:
        """A curve through the whole window, as far as it is defined there without a gap."""
        curve, x, frame = self.plan.asked.curves[number], self.plan.asked.variable, self.frame
        start, end = (decimal(limit) for limit in self.plan.limits)
        inner = [node for stretch in self.stretches[number] for node in stretch]
        before = sampled(curve, x, frame.left, start, _BEYOND)[:-1][::-1]
        after = sampled(curve, x, end, frame.right, _BEYOND)[1:]
        found = [
            *self._going_on(before, inner[0], curve)[::-1],
            *inner,
            *self._going_on(after, inner[-1], curve),
        ]
        # neighbouring stretches share a place
        return [node for at, node in enumerate(found) if not at or node.x > found[at - 1].x]

    def _going_on(self, nodes: Sequence[Node], last: Node, curve: Expression) -> list[Node]:
        """Places beyond a limit, as far as they are shown and the curve goes from one to the next as it is drawn."""
        found: list[Node] = []
        for node in nodes:
            off = strays(curve, self.plan.asked.variable, last, node)
            if not self.frame.shows(node) or off is None or off * _TRUE > self.frame.top - self.frame.bottom:
                break
            found.append(node)
            last = node
        return found

    def regions(self) -> Iterator[Path]:
        """The region, stretch by stretch."""
        for number, part in enumerate(self.plan.parts):
            upper = self.stretches[0][number]
            steps: list[Step] = list(self.frame.curve(upper))
            if len(self.stretches) > 1:
                lower = self.stretches[1][number][::-1]
                steps += [("L", (self.frame.place(lower[0].x, lower[0].y),)), *self.frame.run(lower)]
            else:
                ends = (decimal(part.upper), decimal(part.lower))
                steps += [("L", (self.frame.place(end, Fraction(0)),)) for end in ends]
            yield tuple(steps)

    def inside(self) -> Iterator[Place]:
        """Places all over the region."""
        for number, upper in enumerate(self.stretches[0]):
            heights = [node.y for node in self.stretches[1][number]] if len(self.stretches) > 1 else []
            for at, node in enumerate(upper):
                other = heights[at] if at < len(heights) else Fraction(0)
                for share in (1, 2, 3):
                    yield self.frame.place(node.x, (node.y * share + other * (4 - share)) / 4)

    def edges(self) -> Iterator[Stroke]:
        """Upright lines where the region ends at a given limit, dashed on to the axis."""
        if self.plan.asked.limits is None:
            return
        for limit, at in zip(self.plan.asked.limits, (0, -1), strict=True):
            x = decimal(limit)
            heights = sorted(curve[at][at].y for curve in self.stretches)
            if self.measured:
                yield self._upright("rim", x, heights[0], Fraction(0))
                continue
            if len(self.stretches) == 1:
                heights = sorted((*heights, Fraction(0)))
            yield self._upright("edge", x, heights[0], heights[-1])
            if heights[0] > 0 or heights[-1] < 0:
                yield self._upright("rim", x, Fraction(0), heights[0] if heights[0] > 0 else heights[-1])

    def _upright(self, role: Role, x: Fraction, start: Fraction, end: Fraction) -> Stroke:
        path: Path = (("M", (self.frame.place(x, start),)), ("L", (self.frame.place(x, end),)))
        return Stroke(role=role, path=path)

    def turned(self) -> Iterator[Stroke]:
        """The curves mirrored in the axis, and the rims of the solid."""
        for curve in self.stretches:
            for stretch in curve:
                yield Stroke(role="mirrored", path=self.frame.curve([node.mirrored() for node in stretch]))
        for limit, at in zip(self.plan.limits, (0, -1), strict=True):
            for height in {abs(curve[at][at].y): None for curve in self.stretches}:
                if height * _TINY > self.frame.top:
                    yield Stroke(role="rim", path=self._rim(decimal(limit), height))

    def _rim(self, x: Fraction, height: Fraction) -> Path:
        """A circle seen nearly from its side."""
        (across, level), top = self.frame.place(x, Fraction(0)), self.frame.down(height)
        bottom, wide, rise = 2 * level - top, round(_RIM * _QUARTER), round((level - top) * _QUARTER)
        left, right = across - _RIM, across + _RIM
        return (
            ("M", ((across, top),)),
            ("C", ((across + wide, top), (right, level - rise), (right, level))),
            ("C", ((right, level + rise), (across + wide, bottom), (across, bottom))),
            ("C", ((across - wide, bottom), (left, level + rise), (left, level))),
            ("C", ((left, level - rise), (across - wide, top), (across, top))),
        )

    def dots(self) -> Iterator[Place]:
        """Where the curves meet; the ends of a curve whose length is wanted."""
        curve, x = self.plan.asked.curves[0], self.plan.asked.variable
        for place in self.plan.limits if self.measured else self.plan.places:
            yield self.frame.place(decimal(place), decimal(curve.substitute({x: place})))


def _fine(curve: Expression, x: Symbol, lower: Expression, upper: Expression) -> tuple[Node, ...]:
    """A curve between two places, in as many pieces as it takes to look true."""
    pieces = _PIECES
    while True:
        nodes = sampled(curve, x, lower, upper, pieces)
        heights = [node.y for node in nodes]
        off = [strays(curve, x, *pair) or Fraction(0) for pair in pairwise(nodes)]
        if pieces >= _MOST or max(off) * _TRUE <= max(heights) - min(heights):
            return nodes
        pieces *= 2
