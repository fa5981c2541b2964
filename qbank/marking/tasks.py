"""Marking a task about working: each question has its share of the marks."""

from __future__ import annotations

from collections.abc import Mapping

from qbank.items.item import Prose, WorkingTask
from qbank.marking.mark import Mark
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.notation import plain
from qbank.messages import say

__all__ = ["TaskMarker"]

_PROOFS = {
    "first-step": "the first step of a proved solution",
    "find-fault": "every other line was proved to follow from the line before, this one was refuted",
    "complete-working": "the right lines were proved, the wrong ones refuted",
}


class TaskMarker:
    """Marks the options chosen for the questions of a task.

    Args:
        response: the task.
        conventions: of the bank, for messages.
    """

    def __init__(self, response: WorkingTask, *, conventions: Conventions = DEFAULT) -> None:
        self._response = response
        self._conventions = conventions

    def mark(self, chosen: Mapping[str, str]) -> Mark:
        """Mark one response.

        Args:
            chosen: for the identifiers of questions, those of the options taken; questions may be missing.
        """
        taken = [
            option
            for one in self._response.questions
            for option in one.options
            if option.identifier == chosen.get(one.identifier)
        ]
        if not taken:
            return Mark(outcome="unreadable", score=None, message=say("No option was chosen."))
        score, proof = self._response.score(chosen, 1), _PROOFS[self._response.task]
        if score == 1:
            return Mark(outcome="correct", score=1.0, message=say("Right."), proof=proof)
        wrong = [option for option in taken if not option.right]
        message = (
            " ".join(self._text(option.feedback) for option in wrong)
            if wrong
            else say("Right as far as it goes, but something is still missing.")
        )
        slip = wrong[0].slip if len(wrong) == 1 else None
        return Mark(outcome="incorrect", score=float(score), message=message, slip=slip, proof=proof)

    def _text(self, prose: Prose) -> str:
        return "".join(
            piece if isinstance(piece, str) else plain(piece, self._conventions) for piece in prose
        )
