"""The marker of typed answers that belongs to an item."""

from __future__ import annotations

from qbank.items.item import Item, Numeric
from qbank.marking import AntiderivativeMarker, DefiniteMarker, EvaluationMarker
from qbank.maths.expression import rational

__all__ = ["marker_of"]


def marker_of(item: Item) -> AntiderivativeMarker | DefiniteMarker:
    """A marker for what the item asks for, an antiderivative or a number.

    Args:
        item: of any response form; the marker reads an answer as typed.
    """
    question, conventions = (item.integrand, item.variable), item.conventions
    figures = item.response.figures if isinstance(item.response, Numeric) else 3
    if item.through is not None:
        known = item.through
        places = (known.point, rational(known.value), known.at)
        return EvaluationMarker(*question, *places, figures=figures, conventions=conventions)
    if item.limits is not None:
        return DefiniteMarker(*question, *item.limits, figures=figures, conventions=conventions)
    return AntiderivativeMarker(*question, conventions=conventions)
