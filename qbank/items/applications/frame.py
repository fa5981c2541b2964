"""The part of the plane that a picture shows, and where its places lie in hundredths of a pixel."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from qbank.items.applications.figure import Path, Place, Step
from qbank.items.applications.sampling import Node, bends

__all__ = ["HEIGHT", "WIDTH", "WINDOW", "Frame", "dense"]

WIDTH, HEIGHT = 380, 270
#: room around the part with curves, for texts
_SIDE, _TOP, _FOOT = 26, 22, 26
#: left, top, right and bottom of that part, in hundredths
WINDOW = (100 * _SIDE, 100 * _TOP, 100 * (WIDTH - _SIDE), 100 * (HEIGHT - _FOOT))
#: hundredths between neighbours of places that are close together
_STEP = 300


@dataclass(frozen=True, slots=True)
class Frame:
    """From where to where a picture shows the plane."""

    left: Fraction
    right: Fraction
    bottom: Fraction
    top: Fraction

    def across(self, x: Fraction) -> int:
        """A place along the horizontal axis, in hundredths of a pixel."""
        return 100 * _SIDE + _share(x - self.left, self.right - self.left, 100 * (WIDTH - 2 * _SIDE))

    def down(self, y: Fraction) -> int:
        """A height, in hundredths of a pixel from the top."""
        return 100 * _TOP + _share(self.top - y, self.top - self.bottom, 100 * (HEIGHT - _TOP - _FOOT))

    def place(self, x: Fraction, y: Fraction) -> Place:
        """A point of the plane."""
        return self.across(x), self.down(y)

    @property
    def level(self) -> int:
        """The height of the horizontal axis."""
        return self.down(Fraction(0))

    def shows(self, node: Node) -> bool:
        """Whether a place is in the window, or not far outside."""
        margin = self.top - self.bottom
        return self.bottom - margin <= node.y <= self.top + margin

    def run(self, nodes: Sequence[Node]) -> Iterator[Step]:
        """The curve through places, without its beginning."""
        for first, second, end in bends(nodes):
            yield "C", (self.place(*first), self.place(*second), self.place(*end))

    def curve(self, nodes: Sequence[Node]) -> Path:
        """The curve through places; nothing for fewer than two."""
        return (("M", (self.place(nodes[0].x, nodes[0].y),)), *self.run(nodes)) if len(nodes) > 1 else ()

    def axes(self) -> tuple[tuple[Place, Place], ...]:
        """The horizontal axis, and the vertical one where it is shown: from where to the tip."""
        left, top, right, bottom = WINDOW
        level = ((left - 800, self.level), (right + 800, self.level))
        if not self.left <= 0 <= self.right:
            return (level,)
        upright = self.across(Fraction(0))
        return level, ((upright, bottom + 600), (upright, top - 600))


def _share(part: Fraction, whole: Fraction, of: int) -> int:
    """A part of a whole, of a number of hundredths, rounded; in whole numbers, as there are many of them."""
    over = 2 * of * part.numerator * whole.denominator
    under = part.denominator * whole.numerator
    return (over + under) // (2 * under)


def dense(places: Sequence[Place]) -> Iterator[Place]:
    """Places on the way from each place to the next, a few pixels apart.

    >>> list(dense([(0, 0), (600, 300)]))
    [(0, 0), (200, 100), (400, 200), (600, 300)]
    """
    for (left, top), (right, bottom) in pairwise(places):
        count = 1 + max(abs(left - right), abs(top - bottom)) // _STEP
        for share in range(count + 1):
            yield left + (right - left) * share // count, top + (bottom - top) * share // count
