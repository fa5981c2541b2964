"""Marking a task about working: each question has its share of the marks, whether it is chosen or typed."""

from __future__ import annotations

from collections.abc import Mapping

from qbank.items.item import WorkingTask
from qbank.items.prose_text import prose_text
from qbank.items.tasks.asked import TaskOption, TaskQuestion
from qbank.marking.chosen import NOTHING_CHOSEN, mark_of_chosen
from qbank.marking.gaps import Filled, fill
from qbank.marking.mark import Mark
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.messages import Message, say, together

__all__ = ["TaskMarker", "said_of_gap"]

_PROOFS = {
    "first-step": "the first step of a proved solution",
    "find-fault": "every other line was proved to follow from the line before, this one was refuted",
    "complete-working": "the right lines were proved, the wrong ones refuted",
}
_UNFINISHED = say("Right as far as it goes, but something is still missing.")
_TYPED = "the line was proved with what belongs in it, and what was typed is equal to that, or not"


class TaskMarker:
    """Marks what was chosen and typed for the questions of a task.

    Args:
        response: the task.
        conventions: of the bank, for reading and for messages.
    """

    def __init__(self, response: WorkingTask, *, conventions: Conventions = DEFAULT) -> None:
        self._response = response
        self._conventions = conventions

    def mark(self, given: Mapping[str, str]) -> Mark:
        """Mark one response.

        Args:
            given: for the identifiers of questions, those of the options taken, or what was typed; questions may be
                missing.
        """
        if self._response.gaps:
            return self._typed(given)
        taken = [option for one in self._response.choices if (option := _taken(one, given)) is not None]
        if not taken:
            return NOTHING_CHOSEN
        return mark_of_chosen(
            [option for option in taken if not option.right],
            self._response.score(
                {one.identifier for one in self._response.choices if _is_right(one, given)}, 1
            ),
            self._conventions,
            proof=_PROOFS[self._response.task],
            unfinished=_UNFINISHED,
        )

    def _typed(self, given: Mapping[str, str]) -> Mark:
        right = {one.identifier for one in self._response.choices if _is_right(one, given)}
        said: list[Message | str] = []
        fillings: list[Filled] = []
        answered = False
        for one in self._response.questions:
            if isinstance(one, TaskQuestion):
                option = _taken(one, given)
                answered = answered or option is not None
                if option is not None and not option.right:
                    said.append(prose_text(option.feedback, self._conventions))
                continue
            found = fill(one, given.get(one.identifier, ""), self._conventions)
            fillings.append(found)
            if found.outcome == "right":
                right.add(one.identifier)
            elif given.get(one.identifier, "").strip():
                said.append(said_of_gap(one.line, found, prose_text(one.wrong, self._conventions)))
        answered = answered or any(one.outcome != "unread" for one in fillings)
        if not answered:
            message = together(*said) if said else say("There is no answer.")
            return Mark(outcome="unreadable", score=None, message=message)
        if any(one.outcome == "unsettled" for one in fillings):
            message = say("This answer could not be decided and should be looked at by a person.")
            return Mark(
                outcome="unsettled", score=None, message=message, proof="an expression in a gap is unsettled"
            )
        score = self._response.score(right, 1)
        remarks = tuple(dict.fromkeys(remark for one in fillings for remark in one.remarks))
        if score == 1:
            return Mark(outcome="correct", score=1.0, message=say("Right."), remarks=remarks, proof=_TYPED)
        return Mark(
            outcome="incorrect",
            score=float(score),
            message=together(*said) if said else _UNFINISHED,
            remarks=remarks,
            proof=_TYPED,
        )


def said_of_gap(line: int, found: Filled, wanted: str) -> Message:
    """What a student is told of a gap that is not filled with what belongs there.

    Args:
        line: the number of the line.
        found: the mark of the filling.
        wanted: what belongs there, as a sentence.
    """
    if found.why is None:
        return say("Line {number}: {told}", number=str(line), told=wanted)
    return say("Line {number}: {problem} {told}", number=str(line), problem=found.why, told=wanted)


def _taken(question: TaskQuestion, given: Mapping[str, str]) -> TaskOption | None:
    chosen = given.get(question.identifier)
    return next((option for option in question.options if option.identifier == chosen), None)


def _is_right(question: TaskQuestion, given: Mapping[str, str]) -> bool:
    option = _taken(question, given)
    return option is not None and option.right
