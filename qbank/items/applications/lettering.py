"""The texts of a picture: letters at the axes, the limits that the question gives, and the curves' equations."""

from __future__ import annotations

from collections.abc import Iterator

from qbank.items.applications.figure import Anchor, Label, Place
from qbank.items.applications.frame import HEIGHT, WIDTH, dense
from qbank.items.applications.labelling import Room, beside, readable
from qbank.items.applications.outline import Outline
from qbank.items.applications.sampling import decimal
from qbank.maths.conventions import Conventions
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Symbol
from qbank.messages import say

__all__ = ["labels_of"]

_MARGIN = 200
#: hundredths of a pixel between what a text names and what it does not
_CLOSE = 2200
#: a number below the axis, and above it
_BELOW, _ABOVE = 1700, 700


def labels_of(outline: Outline, conventions: Conventions) -> Iterator[Label]:
    """All texts, each where there is room.

    Args:
        outline: the lines, from which texts keep away.
        conventions: how mathematics is written.
    """
    frame, asked = outline.frame, outline.plan.asked
    drawn = [[frame.place(node.x, node.y) for node in nodes] for nodes in outline.curves]
    room = _room(outline, drawn)
    axes, level = frame.axes(), frame.level
    height = "v" if asked.kind in ("displacement", "distance") else "y"
    yield room.put(asked.variable.name, [((axes[0][1][0], level + _BELOW), "end")])
    if len(axes) > 1:
        upright, tip = axes[1][1]
        yield room.put(height, [((upright - 600, tip + 900), "end"), ((upright + 600, tip + 900), "start")])
    limits = asked.limits or ()
    for limit in limits:
        text = readable(limit, conventions)
        if text is not None:
            yield room.put(text, _around(frame.across(decimal(limit)), level))
    if len(axes) > 1 and not any(decimal(limit) == 0 for limit in limits):
        yield room.put("O", list(_around(axes[1][0][0], level))[1:])
    for number, places in enumerate(drawn):
        text = _name(number, asked.curves, height, conventions)
        others = [place for at, other in enumerate(drawn) if at != number for place in dense(other)]
        seen = [place for place in places if 0 <= place[1] <= 100 * HEIGHT]
        alone = [place for place in seen if all(_far(place, other) for other in others)]
        if text:
            yield room.put(text, beside([*alone[::-1], *seen]))


def _name(number: int, curves: tuple[Expression, ...], height: str, conventions: Conventions) -> str:
    text = readable(Equation(Symbol(height), curves[number]), conventions)
    if text is not None:
        return text
    if len(curves) == 1:
        return ""  # there is nothing to tell it from
    return say("second curve") if number else say("first curve")


def _around(across: int, level: int) -> Iterator[tuple[Place, Anchor]]:
    """Places for a number at the axis: below, then aside, then above."""
    yield (across, level + _BELOW), "middle"
    for down in (level + _BELOW, level - _ABOVE):
        yield (across - 500, down), "end"
        yield (across + 500, down), "start"


def _far(one: Place, other: Place) -> bool:
    """Whether a text beside one place is not taken for one beside the other."""
    return max(abs(one[0] - other[0]), abs(one[1] - other[1])) > _CLOSE


def _room(outline: Outline, drawn: list[list[Place]]) -> Room:
    """All that texts keep away from."""
    room = Room((_MARGIN, _MARGIN, 100 * WIDTH - _MARGIN, 100 * HEIGHT - _MARGIN))
    for places in drawn:
        room.take(dense(places))
    for ends in outline.frame.axes():
        room.take(dense(ends))
    for stroke in (*outline.edges(), *(outline.turned() if outline.solid else ())):
        room.take(dense([places[-1] for _, places in stroke.path]))
    if not outline.measured:
        room.take(outline.inside())
    return room
