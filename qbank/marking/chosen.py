"""The mark of options that were chosen where several may be: what is said comes from the wrong ones among them."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Protocol

from qbank.items.item import Prose
from qbank.items.prose_text import prose_text
from qbank.marking.mark import Mark
from qbank.maths.conventions import Conventions
from qbank.messages import Message, say

__all__ = ["NOTHING_CHOSEN", "mark_of_chosen"]

NOTHING_CHOSEN = Mark(outcome="unreadable", score=None, message=say("No option was chosen."))


class _Option(Protocol):
    """One option.

    Attributes:
        slip: identifier of the slip that leads to it, if any.
        feedback: what a student who picks it is told.
    """

    @property
    def slip(self) -> str | None: ...

    @property
    def feedback(self) -> Prose: ...


def mark_of_chosen(
    wrong: Sequence[_Option], score: Fraction, conventions: Conventions, *, proof: str, unfinished: Message
) -> Mark:
    """The mark of a choice that is not empty.

    Args:
        wrong: the wrong options among those chosen.
        score: from 0 to 1; 1 for exactly the right options.
        conventions: of the bank, for messages.
        proof: how the options were judged.
        unfinished: what is said where nothing is wrong, but something is missing.
    """
    if score == 1:
        return Mark(outcome="correct", score=1.0, message=say("Right."), proof=proof)
    message = " ".join(prose_text(one.feedback, conventions) for one in wrong) if wrong else unfinished
    slip = wrong[0].slip if len(wrong) == 1 else None
    return Mark(outcome="incorrect", score=float(score), message=message, slip=slip, proof=proof)
