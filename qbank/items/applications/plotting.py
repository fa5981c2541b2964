"""The picture of an application, drawn from the question: axes, curves, the region and where the curves meet.

    SetUp --sampled--> places on the curves --Frame--> hundredths of pixels --> Figure

It tells nothing that is to be found: no scale on the axes, no numbers but the limits that the question gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.items.applications.describing import describe, picture_title
from qbank.items.applications.figure import Figure, Role, Stroke
from qbank.items.applications.frame import HEIGHT, WIDTH, WINDOW
from qbank.items.applications.lettering import labels_of
from qbank.items.applications.outline import Outline
from qbank.maths.conventions import Conventions
from qbank.techniques.applications.asked import SetUp

__all__ = ["figure_of"]

_ROLES: tuple[Role, Role] = ("first", "second")


def figure_of(plan: SetUp, conventions: Conventions) -> Figure:
    """The picture of a question.

    Args:
        plan: the question with its limits, and where the curves meet.
        conventions: how mathematics is written.
    """
    outline = Outline(plan)
    axes = outline.frame.axes()
    return Figure(
        width=WIDTH,
        height=HEIGHT,
        title=picture_title(plan.asked),
        description=describe(plan, conventions),
        window=WINDOW,
        regions=() if outline.measured else tuple(outline.regions()),
        strokes=tuple(_strokes(outline)),
        arrows=tuple((tip, towards) for (_, tip), towards in zip(axes, ((1, 0), (0, -1)), strict=False)),
        dots=tuple(outline.dots()),
        labels=tuple(labels_of(outline, conventions)),
    )


def _strokes(outline: Outline) -> Iterator[Stroke]:
    for start, end in outline.frame.axes():
        yield Stroke(role="axis", path=(("M", (start,)), ("L", (end,))))
    yield from outline.edges()
    if outline.solid:
        yield from outline.turned()
    for role, nodes in zip(_ROLES, outline.curves, strict=False):
        yield Stroke(role=role, path=outline.frame.curve(nodes))
    if outline.measured:
        for stretch in outline.stretches[0]:
            yield Stroke(role="measured", path=outline.frame.curve(stretch))
