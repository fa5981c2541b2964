"""Marking a task about working: each question has its share of the marks."""

from __future__ import annotations

from collections.abc import Mapping

from qbank.items.item import WorkingTask
from qbank.marking.chosen import NOTHING_CHOSEN, mark_of_chosen
from qbank.marking.mark import Mark
from qbank.maths.conventions import DEFAULT, Conventions
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
            return NOTHING_CHOSEN
        return mark_of_chosen(
            [option for option in taken if not option.right],
            self._response.score(chosen, 1),
            self._conventions,
            proof=_PROOFS[self._response.task],
            unfinished=say("Right as far as it goes, but something is still missing."),
        )
