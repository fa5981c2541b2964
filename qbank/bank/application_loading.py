"""The field `application` of a template: its curves are read, and what belongs together is held together."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from qbank.bank.application import LENGTHS, Application
from qbank.maths.expression import Expression

__all__ = ["application_of"]

#: path, code, message, hint
_Report = Callable[[tuple[str | int, ...], str, str, str], object]
#: path, text -> what it says, None where that is a problem
_Read = Callable[[tuple[str | int, ...], str | int], Expression | None]

_MEETING = "where-they-meet"
#: kinds of a region, which two curves may bound and which may end where they meet
_REGIONS = ("area", "volume")
_MOTION = ("displacement", "distance")
#: what a template has no use for beside an application, which says it all
_NEEDLESS = ("integrand", "antiderivative", "technique", "task", "limits", "domain", "distractors", "offer")


def application_of(raw: dict[str, Any], report: _Report, curve: _Read, limit: _Read) -> Application | None:
    """The application of a template.

    Args:
        raw: the template as it stands in the file.
        report: is told the path within the template, a code, what is wrong and a hint.
        curve: reads a function of the variable and the parameters.
        limit: reads a constant with parameters.

    Returns:
        None where the template has none, or where it has a problem.
    """
    stated = raw.get("application")
    if stated is None:
        return None
    for name in _NEEDLESS:
        if name in raw:
            report((name,), "needless", f"{name} is said by the application", "leave it out")
    if not set(raw.get("responses", ())) <= {"numeric", "choice"}:
        report(
            ("responses",),
            "unfit-response",
            "an application is answered by a number or a choice",
            "use numeric",
        )
    kind, ends = stated["kind"], stated.get("limits", _MEETING)
    if kind not in _REGIONS and len(stated["curves"]) > 1:
        report(("application", "curves"), "too-many", f"{kind} is asked of one curve", "give one")
    if kind not in _REGIONS and ends == _MEETING:
        report(("application", "limits"), "missing", f"{kind} needs two limits", 'write limits: ["0", "4"]')
    _check_units(stated, report)
    curves = [curve(("application", "curves", at), text) for at, text in enumerate(stated["curves"])]
    limits = (
        () if ends == _MEETING else [limit(("application", "limits", at), one) for at, one in enumerate(ends)]
    )
    known = tuple(one for one in curves if one is not None)
    both = tuple(one for one in limits if one is not None)
    if len(known) < len(curves) or len(both) < len(limits):
        return None
    return Application(
        kind=kind,
        curves=known,
        limits=(both[0], both[1]) if both else None,
        unit=stated.get("unit", ""),
        time=stated.get("time", ""),
        setting=stated.get("setting", ""),
    )


def _check_units(stated: dict[str, Any], report: _Report) -> None:
    kind, unit = stated["kind"], stated.get("unit", "")
    if kind != "mean-value" and unit and unit not in LENGTHS:
        known = ", ".join(LENGTHS)
        report(
            ("application", "unit"),
            "unknown-unit",
            f"{unit!r} is no unit of length here",
            f"known are {known}",
        )
    if kind in _MOTION and bool(unit) != ("time" in stated):
        report(
            ("application",),
            "missing",
            "a velocity has a unit of length and one of time",
            "give both, or none",
        )
    if kind not in _MOTION and "time" in stated:
        report(("application", "time"), "needless", "a unit of time belongs to a velocity", "leave it out")
