"""Response processing: which response scores, and what the student is then told.

Several answers are in `several`. For all others there is one condition for one option or one spelling, and the first that holds ends the processing. So nothing depends on
what a reader makes of several tests in one condition, which the standard's readers take in different ways. Only the right
answer sets the score, which starts at 0; a blank meets the last condition, if any.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple, assert_never

from qbank.items.item import (
    Choice,
    Coefficients,
    FreeExpression,
    Item,
    Matching,
    Numeric,
    Prose,
    SeveralAnswers,
    WorkingTask,
)
from qbank.items.tasks.asked import TaskGap
from qbank.writers import phrases
from qbank.writers.qti.gaps import told_of
from qbank.writers.qti.tasks import is_scored_by_person
from qbank.writers.qti12.follows import follows
from qbank.writers.qti12.matching import RIGHT, SOME, add_matching_conditions
from qbank.writers.qti12.names import RESPONSE, SCORE, Dialect, feedback_name
from qbank.writers.qti12.several import add_several_conditions
from qbank.writers.qti12.spellings import accepted, recognised
from qbank.writers.qti12.tasks import add_task_conditions, spellings_of
from qbank.writers.tree import Element, add

__all__ = ["Told", "add_processing", "marked_by_a_person", "told"]


class Told(NamedTuple):
    """What a student is told after some responses.

    Attributes:
        name: of the feedback.
        responses: after which; None stands for every response that no other names.
        right: whether they score.
        prose: the feedback.
    """

    name: str
    responses: tuple[str | None, ...]
    right: bool
    prose: Prose


def marked_by_a_person(item: Item) -> bool:
    """Whether the item is written as an essay, because the standard has nothing that could mark it."""
    if isinstance(item.response, WorkingTask):
        return is_scored_by_person(item.response)
    return isinstance(item.response, Coefficients | FreeExpression)


def told(item: Item) -> tuple[Told, ...]:
    """The feedback of an item besides its solution, in the order in which its conditions are tried."""
    return tuple(_told(item))


def _told(item: Item) -> Iterator[Told]:
    match item.response:
        case Choice(options=options) | SeveralAnswers(options=options):
            for option in options:
                name = feedback_name(option.identifier)
                yield Told(name, (option.identifier,), option.is_key, option.feedback)
        case Matching(partners=partners, rows=rows):
            if len(rows) == 1:
                yield Told(RIGHT, (), True, (phrases.RIGHT,))
                yield Told(SOME, (), False, (phrases.NOT_RIGHT,))
            for partner in partners:
                if partner.misled in {row.identifier for row in rows}:
                    yield Told(feedback_name(partner.identifier), (), False, partner.feedback)
        case WorkingTask() as task:
            yield from _told_of_task(item, task)
        case Numeric():
            yield Told(feedback_name("right"), accepted(item, item.response), True, (phrases.RIGHT,))
            for number, slip in enumerate(item.response.slips, 1):
                if spellings := recognised(slip, item.conventions.decimal):
                    yield Told(feedback_name(f"slip{number}"), spellings, False, slip.feedback)
            yield Told(feedback_name("other"), (None,), False, (phrases.UNLISTED,))
        case Coefficients() | FreeExpression():
            return
        case _:
            assert_never(item.response)


def _told_of_task(item: Item, task: WorkingTask) -> Iterator[Told]:
    if marked_by_a_person(item):
        return
    for one in task.questions:
        if isinstance(one, TaskGap):
            name = feedback_name(told_of(one, right=True))
            yield Told(name, spellings_of(one, item), True, one.right)
            if len(task.questions) == 1:
                yield Told(feedback_name("other"), (None,), False, (phrases.UNLISTED,))
            continue
        for option in one.options:
            yield Told(feedback_name(option.identifier), (option.identifier,), option.right, option.feedback)


def add_processing(parent: Element, item: Item, dialect: Dialect, feedback: Sequence[Told]) -> None:
    """Append the response processing of an item.

    Args:
        parent: where it goes.
        item: the item.
        dialect: how it is written.
        feedback: what is told of it.
    """
    full = "100" if dialect.percent else str(item.marks)
    processing = add(parent, "resprocessing")
    limits = {"varname": SCORE, "vartype": "Decimal", "minvalue": "0", "maxvalue": full}
    add(add(processing, "outcomes"), "decvar", limits)
    if isinstance(item.response, SeveralAnswers):
        add_several_conditions(processing, item.response, dialect, item.marks)
        return
    if isinstance(item.response, Matching):
        add_matching_conditions(processing, item.response, int(full))
        return
    if (
        isinstance(item.response, WorkingTask)
        and len(item.response.questions) > 1
        and not marked_by_a_person(item)
    ):
        add_task_conditions(processing, item, item.response, int(full))
        return
    for one in feedback:
        for response in one.responses:
            _condition(processing, response, full if one.right else None, one.name)
    if marked_by_a_person(item):
        _condition(processing, None, None, None)


def _condition(processing: Element, response: str | None, score: str | None, name: str | None) -> None:
    condition = add(processing, "respcondition", {"continue": "No"})
    test = add(condition, "conditionvar")
    if response is None:
        add(test, "other")
    else:
        add(test, "varequal", {"respident": RESPONSE}, response)
    condition.parts += follows("Set", score, name)
