"""The field `policy` of a template: shares of the marks, and the slips that they name."""

from __future__ import annotations

import difflib
from collections.abc import Callable
from typing import Any

from qbank.bank.policy import ACCEPTING, Policy, policy_from
from qbank.techniques import TECHNIQUES
from qbank.techniques.general_slips import GENERAL_SLIPS

__all__ = ["policy_of"]


#: path, code, message, hint
_Report = Callable[[tuple[str | int, ...], str, str, str], object]


def policy_of(raw: dict[str, Any], report: _Report) -> Policy:
    """The policy of a template; problems go to `report`.

    Args:
        raw: the template as it stands in the file.
        report: is told the path within the template, a code, what is wrong and a hint.
    """
    stated = raw.get("policy", {})
    try:
        policy = policy_from(stated)
    except ValueError as error:
        report(("policy",), "no-share", str(error), "")
        return ACCEPTING
    wanted = raw.get("technique")
    technique = next((one for one in TECHNIQUES if one.identifier == wanted), None)
    if technique is None or raw.get("task") == "definite":
        return policy
    known = (*(slip.identifier for slip in technique.slips), *GENERAL_SLIPS)
    for name, _ in policy.slips:
        if name not in known:
            near = difflib.get_close_matches(name, known, 1)
            hint = f"did you mean {near[0]!r}?" if near else "known are " + ", ".join(known)
            report(("policy", "slips", name), "unknown-slip", f"the technique has no slip {name!r}", hint)
    return policy
