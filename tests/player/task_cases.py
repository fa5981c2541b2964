"""Attempts at tasks about working: every question right, one of them, each wrong option, nothing, and what is no option."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from qbank.items.item import Item, WorkingTask
from qbank.marking import TaskMarker
from qbank.writers.qti.names import RESPONSE
from tests.player.case import Case, Kind, chosen, hidden_reasons, marks_of, reasons, sent, texts
from tests.player.choice_cases import NONE

__all__ = ["task"]


def task(item: Item, response: WorkingTask, *, every: bool) -> Iterator[Case]:
    """The attempts, scored by our marker.

    Args:
        item: the item.
        response: its questions.
        every: all wrong options, and not only the first of each question.
    """
    marker = TaskMarker(response, conventions=item.conventions)
    first, *others = response.choices
    right = {one.identifier: one.key.identifier for one in response.choices}
    attempts: list[tuple[Kind, Mapping[str, str]]] = [("right", right)]
    if others:
        attempts += [("partial", {first.identifier: first.key.identifier})]
    for one in response.choices:
        wrong = [option.identifier for option in one.options if not option.right]
        for option in wrong[: None if every else 1]:
            attempts.append(("partial" if others else "wrong", right | {one.identifier: option}))
    if others:
        attempts.append(
            (
                "wrong",
                {
                    one.identifier: next(option.identifier for option in one.options if not option.right)
                    for one in response.choices
                },
            )
        )
    for kind, taken in attempts:
        told = (
            option.feedback
            for one in response.choices
            for option in one.options
            if option.identifier == taken.get(one.identifier)
        )
        yield Case(
            item=item,
            kind=kind,
            answers=tuple(
                answer
                for question, option in taken.items()
                for answer in chosen(option, variable=_variable(response, question))
            ),
            score=marks_of(marker.mark(taken), item),
            shows=(*(text for prose in told for text in texts(prose)), *reasons(item)),
        )
    yield Case(item=item, kind="blank", answers=(), score=0, hides=hidden_reasons(item))
    nothing = sent(NONE, variable=_variable(response, first.identifier))
    yield Case(item=item, kind="malformed", answers=nothing, score=0, shows=reasons(item))


def _variable(response: WorkingTask, question: str) -> str:
    return RESPONSE if len(response.choices) == 1 else f"{RESPONSE}_{question}"
