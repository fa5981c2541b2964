"""A picture as plain data, its lengths in hundredths of a pixel: what a writer draws without any mathematics."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

__all__ = ["Anchor", "Figure", "Label", "Path", "Place", "Role", "Step", "Stroke"]

#: across and down
Place: TypeAlias = tuple[int, int]
#: where a path goes: `M` begins at a place, `L` draws a line to one, `C` a cubic Bezier curve by two to a third
Step: TypeAlias = tuple[Literal["M", "L", "C"], tuple[Place, ...]]
Path: TypeAlias = tuple[Step, ...]
#: what a line is: an axis, the arrow at its end, the first or the second curve, the same mirrored in the axis, an edge of
#: the region, the rim of a solid, the part of a curve whose length is wanted
Role: TypeAlias = Literal["axis", "first", "second", "mirrored", "edge", "rim", "measured"]
Anchor: TypeAlias = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line."""

    role: Role
    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A text; its baseline begins, has its middle or ends at a place."""

    text: str
    at: Place
    anchor: Anchor


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A picture.

    Attributes:
        width: in whole pixels.
        height: likewise.
        title: what it is, in few words.
        description: what is to be seen in it, for who cannot see it.
        window: left, top, right and bottom of the part in which curves are drawn.
        regions: closed paths, shaded.
        strokes: lines, in the order in which they are drawn.
        arrows: tips of the axes with their directions, across and down.
        dots: places where curves meet.
        labels: texts.
    """

    width: int
    height: int
    title: str
    description: str
    window: tuple[int, int, int, int]
    regions: tuple[Path, ...]
    strokes: tuple[Stroke, ...]
    arrows: tuple[tuple[Place, Place], ...]
    dots: tuple[Place, ...]
    labels: tuple[Label, ...]
