"""Plots of a class's figures as SVG: plain shapes in one dark colour, so that they print and need no colour vision."""

from __future__ import annotations

import re
from io import StringIO
from typing import Any

from qbank.analysis.figures import ClassFigures
from qbank.messages import in_language, say

__all__ = ["facility_plot", "slips_plot", "totals_plot"]

_INK, _FAINT = "#1f3a5f", "#c8d2de"
_STYLE: dict[Any, Any] = {
    # text stays text, in the reader's own font, and can be read aloud
    "svg.fonttype": "none",
    # the same input gives the same names within the drawing
    "svg.hashsalt": "qbank",
    "font.family": "sans-serif",
    "font.size": 9,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.edgecolor": "#555555",
    "axes.labelcolor": "#222222",
    "figure.autolayout": True,
}
_MOST_SLIPS = 12


def totals_plot(figures: ClassFigures, language: str) -> str:
    """How many students have which part of all marks."""
    chart, axes = _chart(5.2, 2.6)
    axes.hist(figures.totals, bins=[n / 10 for n in range(11)], color=_INK, edgecolor="white")
    axes.set_xlabel(in_language(say("mean score of a student"), language))
    axes.set_ylabel(in_language(say("students"), language))
    axes.yaxis.get_major_locator().set_params(integer=True)
    return _svg(chart)


def facility_plot(figures: ClassFigures, language: str) -> str:
    """The facility of each item, numbered as in the table."""
    known = [(at, item.facility) for at, item in enumerate(figures.items, 1) if item.facility is not None]
    chart, axes = _chart(5.2, max(1.6, 0.24 * len(known) + 0.7))
    rows = range(len(known))
    axes.barh(rows, [1.0] * len(known), color=_FAINT, height=0.62)
    axes.barh(rows, [facility for _, facility in known], color=_INK, height=0.62)
    axes.set_yticks(list(rows), [str(at) for at, _ in known])
    axes.set_ylim(len(known) - 0.4, -0.6)
    axes.set_xlim(0, 1)
    axes.set_xlabel(in_language(say("facility"), language))
    axes.set_ylabel(in_language(say("item"), language))
    return _svg(chart)


def slips_plot(figures: ClassFigures, language: str) -> str:
    """The slips made most often."""
    slips = figures.slips[:_MOST_SLIPS]
    chart, axes = _chart(6.4, 0.28 * len(slips) + 0.8)
    rows = range(len(slips))
    axes.barh(rows, [count for _, count, _ in slips], color=_INK, height=0.62)
    axes.set_yticks(list(rows), [slip for slip, _, _ in slips])
    axes.set_ylim(len(slips) - 0.4, -0.6)
    axes.xaxis.get_major_locator().set_params(integer=True)
    axes.set_xlabel(in_language(say("answers"), language))
    return _svg(chart)


def _chart(width: float, height: float) -> tuple[Any, Any]:
    # the figure alone, without the global state of pyplot
    import matplotlib as mpl
    from matplotlib.figure import Figure

    with mpl.rc_context(_STYLE):
        chart = Figure(figsize=(width, height))
        return chart, chart.add_subplot()


def _svg(chart: Any) -> str:
    import matplotlib as mpl

    text = StringIO()
    with mpl.rc_context(_STYLE):
        chart.savefig(text, format="svg", metadata={"Date": None, "Creator": None}, transparent=True)
    # within a page a drawing has no prologue, and scales with the column
    drawing = text.getvalue()[text.getvalue().index("<svg") :]
    drawing = re.sub(r"<metadata>.*?</metadata>", "", drawing, flags=re.DOTALL)
    for name in ("width", "height"):
        drawing = re.sub(rf'(<svg[^>]*?) {name}="[^"]*"', r"\1", drawing)
    return drawing
