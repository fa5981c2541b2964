"""What follows when a condition of the response processing holds: the score is set or changed, and feedback is shown."""

from __future__ import annotations

from functools import lru_cache

from qbank.writers.qti12.names import SCORE, SOLUTION
from qbank.writers.tree import Element, add, lasting

__all__ = ["follows"]


@lru_cache(maxsize=256)
def follows(action: str, score: str | None, feedback: str | None) -> tuple[Element, ...]:
    """The elements after the test of a condition; they are the same in many.

    Args:
        action: what is done with the score: `Set`, `Add` or `Subtract`.
        score: the number for it; None where it is left as it is.
        feedback: on the response, which is shown before the solution; None for none.
    """
    top = Element(b"")
    if score is not None:
        add(top, "setvar", {"action": action, "varname": SCORE}, score)
    if feedback is not None:
        add(top, "displayfeedback", {"feedbacktype": "Response", "linkrefid": feedback})
    add(top, "displayfeedback", {"feedbacktype": "Solution", "linkrefid": SOLUTION})
    return tuple(map(lasting, top.children))
