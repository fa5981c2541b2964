"""What a template says of tasks about working, checked alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

__all__ = ["TASKS", "check_tasks"]

#: path, code, message, hint
_Report = Callable[[tuple[str | int, ...], str, str, str], object]

#: response forms that ask about the working itself
TASKS = frozenset({"first-step", "find-fault", "complete-working"})


def check_tasks(raw: dict[str, Any], report: _Report) -> None:
    """Check a template whose responses have a task about working.

    Args:
        raw: the template.
        report: told of each problem.
    """
    for name in ("fading", "gaps"):
        if name in raw and "complete-working" not in raw.get("responses", ()):
            report(
                (name,),
                "needless",
                f"{name} belongs to the response form complete-working",
                "add complete-working to the responses",
            )
    if (
        "options" in raw
        and set(raw.get("responses", ())) == {"complete-working"}
        and "line" not in raw.get("gaps", ("line",))
    ):
        report(
            ("options",),
            "needless",
            "numbers and expressions are typed, so that there are no options",
            "leave the options out, or add line to the gaps",
        )
    if not TASKS & set(raw.get("responses", ())):
        return
    if "technique" not in raw:
        report(
            ("responses",),
            "unfit-response",
            "a task about working needs a technique, whose working it asks about",
            "add a line technique: ...",
        )
    if "domain" in raw:
        report(
            ("domain",),
            "unfit-response",
            "a task about working is asked on the whole domain of the integrand",
            "leave the domain out",
        )
