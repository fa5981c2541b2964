"""What a template says of matching, checked alone and then against the other templates of the bank."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from qbank.bank.model import MatchedWith, Template

__all__ = ["matched_with", "strangers"]

#: path, code, message, hint
_Report = Callable[[tuple[str | int, ...], str, str, str], object]

#: for first steps, each of another template
_FEWEST_OTHERS = 2


def matched_with(raw: dict[str, Any], report: _Report) -> MatchedWith:
    """The field `matching` of a template.

    Args:
        raw: the template.
        report: told of each problem.
    """
    value = raw.get("matching", {})
    others, show = tuple(value.get("with", ())), value.get("show", "antiderivative")
    wanted = "matching" in raw.get("responses", ())
    if value and not wanted:
        report(
            ("matching",),
            "needless",
            "matching belongs to the response form matching",
            "add matching to the responses",
        )
    if wanted and show == "first-step" and len(others) < _FEWEST_OTHERS:
        report(
            ("matching",),
            "too-few",
            "first steps are told apart between three templates at least",
            "name two or three others in with",
        )
    if wanted and "domain" in raw:
        report(
            ("domain",),
            "unfit-response",
            "a matching asks for antiderivatives on their whole domains",
            "leave the domain out",
        )
    return MatchedWith(others=others, show=show)


def strangers(
    template: Template, templates: Sequence[Template]
) -> Iterator[tuple[tuple[str | int, ...], str, str, str]]:
    """What is wrong with the templates that another names: path in the template, code, message, hint.

    Args:
        template: names others.
        templates: those of the bank.
    """
    known = {one.identifier: one for one in templates}
    for place, name in enumerate(template.matching.others):
        path, other = ("matching", "with", place), known.get(name)
        if other is None:
            near = difflib.get_close_matches(name, known, 1)
            hint = f"did you mean {near[0]!r}?" if near else "name a template of this bank"
            yield path, "unknown-template", f"there is no template {name!r}", hint
        elif other is template:
            yield (
                path,
                "unfit-template",
                "a template stands beside itself without being named",
                "leave it out",
            )
        elif other.task == "definite" or other.domain is not None or other.variable != template.variable:
            message = (
                f"{name!r} does not ask for an antiderivative in {template.variable.name} on its whole domain"
            )
            yield path, "unfit-template", message, "name another template"
