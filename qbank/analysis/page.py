"""The figures of a class as one HTML page that needs nothing else, and as JSON.

All text of students and banks is escaped by the template engine; the page may run no script.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from functools import partial
from importlib.resources import files
from typing import Any

from qbank.analysis.figures import ClassFigures
from qbank.analysis.plots import facility_plot, slips_plot, totals_plot
from qbank.messages import Message, in_language, is_spoken, say

__all__ = ["as_json", "as_page"]

#: answers to decide by hand that the page lists
_LISTED = 200
_VERDICTS = {
    "correct": say("correct"),
    "incorrect": say("incorrect"),
    "unsettled": say("unsettled"),
    "unreadable": say("unreadable"),
}


def as_page(figures: ClassFigures, title: str, language: str = "en") -> str:
    """One HTML page.

    Args:
        figures: of the class.
        title: of the page.
        language: BCP 47 tag of what it says; one that is not spoken is English.
    """
    from jinja2 import Environment, StrictUndefined

    environment = Environment(autoescape=True, undefined=StrictUndefined)
    told = partial(in_language, language=language)
    environment.filters |= {"part": _part, "said": told}
    environment.globals |= {"said": told, "say": lambda text, **pieces: told(_message(text, pieces))}
    template = environment.from_string((files("qbank.analysis") / "page.html.j2").read_text(encoding="utf-8"))
    return template.render(
        language=language if is_spoken(language) else "en",
        title=title,
        figures=figures,
        histogram=_histogram(figures, language),
        verdicts=_VERDICTS,
        listed=_LISTED,
        totals_plot=totals_plot(figures, language) if figures.totals else "",
        facility_plot=facility_plot(figures, language),
        slips_plot=slips_plot(figures, language) if figures.slips else "",
    )


def as_json(figures: ClassFigures) -> str:
    """The same figures as JSON, without any student: answers to decide by hand are given by their row."""
    value: dict[str, Any] = asdict(figures)
    value["by_hand"] = [
        {"row": one.row, "item": one.item, "response": one.response, "message": one.message}
        for one in figures.by_hand
    ]
    value["slips"] = [{"slip": slip, "count": count, "sentence": said} for slip, count, said in figures.slips]
    for item in value["items"]:
        item["slips"] = [{"slip": slip, "count": count} for slip, count in item["slips"]]
    return json.dumps(value, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def _part(value: float | None) -> str:
    """A number between -1 and 1 to two places.

    >>> _part(None), _part(0.5), _part(-0.001)
    ('–', '0.50', '0.00')
    """
    if value is None:
        return "–"
    text = f"{value:.2f}"
    return "0.00" if text == "-0.00" else text


def _message(text: str, pieces: dict[str, object]) -> Message:
    """A sentence of the template, which is the source of it."""
    return Message(text, tuple((gap, str(piece)) for gap, piece in pieces.items()))


def _histogram(figures: ClassFigures, language: str) -> str:
    """The histogram in words."""
    counts = [0] * 10
    for total in figures.totals:
        counts[min(9, int(total * 10))] += 1
    return ", ".join(
        in_language(
            say(
                "{count} from {lower} to {upper}",
                count=str(count),
                lower=f"{at / 10:.1f}",
                upper=f"{(at + 1) / 10:.1f}",
            ),
            language,
        )
        for at, count in enumerate(counts)
        if count
    )
