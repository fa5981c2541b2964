"""One test of a bank file: its sections, and which templates each of them may take its items from.

The schema has settled the shape. Here names are looked up in the bank, and a section that could never be filled is
a problem where its author can see it.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from qbank.bank.drawing import box_size
from qbank.bank.model import Assessment, AssessmentSection, Template
from qbank.bank.problem import Problem
from qbank.bank.source import Source, pointer_to
from qbank.techniques import TECHNIQUES
from qbank.techniques.definites.choosing import is_way

__all__ = ["AssessmentBuilder"]

#: what a section selects by -> how one is called, and the names of that kind that a template in the file has
_KINDS: dict[str, tuple[str, Callable[[dict[str, Any]], Iterable[str]]]] = {
    "templates": ("template", lambda raw: (raw["identifier"],)),
    "tags": ("tag", lambda raw: raw.get("tags", ())),
    "techniques": ("technique", lambda raw: (raw["technique"],) if "technique" in raw else ()),
}


class AssessmentBuilder:
    """Builds one test; a part that is wrong becomes a problem and the rest is still looked at."""

    def __init__(
        self, source: Source, problems: list[Problem], templates: Sequence[Template | None], index: int
    ) -> None:
        self._source = source
        self._problems = problems
        self._templates = templates
        self._raw: dict[str, Any] = source.data["tests"][index]
        self._at = ("tests", index)

    def assessment(self) -> Assessment:
        """The test; of use only if no problem was found."""
        raw = self._raw
        return Assessment(
            identifier=raw["identifier"],
            title=raw["title"],
            instructions=raw.get("instructions", ""),
            minutes=raw.get("minutes"),
            shuffle=raw.get("shuffle", True),
            sections=tuple(self._section(index, one) for index, one in enumerate(raw["sections"])),
        )

    def _section(self, index: int, raw: dict[str, Any]) -> AssessmentSection:
        by: dict[str, Any] = raw["by"]
        before = len(self._problems)
        self._check_names(index, by)
        difficulty = by.get("difficulty", {})
        bounds = difficulty.get("from"), difficulty.get("to")
        if None not in bounds and bounds[0] > bounds[1]:
            message = f"no difficulty is from {bounds[0]} to {bounds[1]}"
            self._report((index, "by", "difficulty"), "empty-range", message, "give the smaller number first")
        responses = by.get("responses")
        chosen = tuple(self._chosen(by))
        if len(self._problems) == before:
            self._check_supply(index, raw, chosen)
        return AssessmentSection(
            title=raw["title"],
            count=raw["count"],
            marks=raw.get("marks"),
            order=raw.get("order", "drawn"),
            templates=tuple(template for place in chosen if (template := self._templates[place]) is not None),
            responses=None if responses is None else tuple(responses),
            difficulty=bounds,
        )

    def _report(self, path: Iterable[str | int], code: str, message: str, hint: str) -> None:
        pointer = pointer_to(*self._at, "sections", *path)
        self._problems.append(self._source.problem(pointer, code, message, hint))

    def _check_names(self, index: int, by: dict[str, Any]) -> None:
        for kind, (word, names_of) in _KINDS.items():
            known = list(
                dict.fromkeys(name for raw in self._source.data["templates"] for name in names_of(raw))
            )
            for place, name in enumerate(by.get(kind, ())):
                if name in known:
                    continue
                real = kind == "techniques" and (
                    name in {one.identifier for one in TECHNIQUES} or is_way(name)
                )
                message = f"no template of the bank has the {word} {name!r}"
                if kind == "templates":
                    message = f"the bank has no template {name!r}"
                elif kind == "techniques" and not real:
                    message = f"there is no technique {name!r}"
                near = difflib.get_close_matches(name, known, 1)
                hint = (
                    f"did you mean {near[0]!r}?"
                    if near
                    else f"the bank has {', '.join(known[:12]) or 'none'}"
                )
                self._report((index, "by", kind, place), f"unknown-{word}", message, hint)

    def _chosen(self, by: dict[str, Any]) -> Iterable[int]:
        """Places of the templates that a selection lets through, before any difficulty is looked at."""
        for place, raw in enumerate(self._source.data["templates"]):
            fits = all(
                kind not in by or any(name in by[kind] for name in names_of(raw))
                for kind, (_, names_of) in _KINDS.items()
            )
            usual = ("numeric",) if raw.get("task") == "definite" else ("choice",)
            forms = raw.get("responses", usual)
            if fits and ("responses" not in by or any(form in by["responses"] for form in forms)):
                yield place

    def _check_supply(self, index: int, raw: dict[str, Any], chosen: Sequence[int]) -> None:
        if not chosen:
            message = "no template of the bank fits all that is asked for here"
            hint = "names under one heading are alternatives, but every heading must hold: leave one out"
            self._report((index, "by"), "empty-selection", message, hint)
            return
        found = [self._templates[place] for place in chosen]
        supply = sum(box_size(template) for template in found if template is not None)
        if None not in found and raw["count"] > supply:
            message = f"{raw['count']} items are to be dealt, but the templates have at most {supply} different ones"
            self._report((index, "count"), "too-many", message, "ask for fewer, or let more templates in")
