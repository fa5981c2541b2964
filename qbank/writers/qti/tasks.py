"""Tasks about working: the lines, a choice or a box for each question, and what each adds to the score.

A blank line has its choice where the line would stand, a gap its box in the line (see `gaps`). An item with a single question is declared and scored as a single
choice is; of several, each has a response variable and a feedback variable of its own.
"""

from __future__ import annotations

from collections.abc import Callable

from qbank.items.item import Item
from qbank.items.tasks.asked import Asked, TaskGap, TaskQuestion, WorkingTask
from qbank.writers import phrases
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.content import add_gapped_row, add_phrase, add_prose, add_row, add_text
from qbank.writers.qti.elements import QtiElement, add
from qbank.writers.qti.feedback import add_shown_for
from qbank.writers.qti.gaps import (
    add_gap_box,
    add_gap_feedback,
    add_is_right,
    add_listed,
    add_rubric,
    declare_gap,
    told_of,
)
from qbank.writers.qti.names import FEEDBACK, LISTED, RESPONSE, SCORE, SOLUTION

__all__ = [
    "add_lines",
    "add_task",
    "add_task_processing",
    "declare_task",
    "feedback_names",
    "is_scored_by_person",
    "listed_names",
]


def _name(base: str, response: WorkingTask, question: Asked) -> str:
    return base if len(response.questions) == 1 else f"{base}_{question.identifier}"


def feedback_names(response: WorkingTask) -> tuple[str, ...]:
    """The outcome variables that say which feedback is seen."""
    return tuple(_name(FEEDBACK, response, one) for one in response.questions)


def listed_names(response: WorkingTask) -> tuple[str, ...]:
    """The outcome variables that say which numbers are right."""
    return tuple(_name(LISTED, response, one) for one in response.gaps if one.letter is None)


def is_scored_by_person(response: WorkingTask) -> bool:
    """Whether an expression is among what is asked for, which no response processing can mark."""
    return any(one.letter is not None for one in response.gaps)


def declare_task(top: QtiElement, item: Item, response: WorkingTask) -> None:
    """Append the declarations of the response variables."""
    for one in response.questions:
        name = _name(RESPONSE, response, one)
        if isinstance(one, TaskGap):
            declare_gap(top, name, one, item)
            continue
        attributes = {"identifier": name, "cardinality": "single", "base-type": "identifier"}
        declaration = add(top, "qti-response-declaration", attributes)
        add(add(declaration, "qti-correct-response"), "qti-value", text=one.key.identifier)


def add_task(body: QtiElement, item: Item, response: WorkingTask, *, shuffle: bool) -> None:
    """Append the question, the lines, and the choices and boxes."""
    if is_scored_by_person(response):
        add_rubric(body, item, response)
    asked = {one.identifier: one for one in response.questions}
    if response.lines:
        add_prose(add(body, "p"), item.prompt, item.conventions)

    def add_box(parent: QtiElement, gap: TaskGap) -> None:
        add_gap_box(parent, _name(RESPONSE, response, gap), gap, item)

    for number, place in add_lines(body, item, response, add_box).items():
        one = next(asked.pop(line.question or "") for line in response.lines if line.number == number)
        if isinstance(one, TaskGap):
            add_gap_feedback(place, one, item, _name(FEEDBACK, response, one))
        else:
            _choice(place, item, response, one, shuffle=shuffle)
    for one in asked.values():
        assert isinstance(one, TaskQuestion), "a gap stands in a line"
        _choice(body, item, response, one, shuffle=shuffle)
    if any(one.letter is None for one in response.gaps):
        add_phrase(add(body, "p"), phrases.number_wanted(item.conventions.decimal), item)


def add_lines(
    parent: QtiElement,
    item: Item,
    response: WorkingTask,
    add_box: Callable[[QtiElement, TaskGap], object] | None = None,
) -> dict[int, QtiElement]:
    """Append the lines of the working as a numbered list.

    Args:
        parent: where it goes.
        item: the item.
        response: the task.
        add_box: appends the box of a gap that is asked for; without it, and for others, dots stand there.

    Returns:
        Where something is asked for, by number.
    """
    places: dict[int, QtiElement] = {}
    if not response.lines:
        return places
    asked = {gap.identifier: gap for gap in response.gaps}
    steps = add(parent, "ol")
    for line in response.lines:
        step = add(steps, "li")
        if response.reasons:
            add_text(step, line.row.reason)
        if line.gapped is not None:
            gap = asked.get(line.question or "")
            if gap is None or add_box is None:
                add_gapped_row(add(step, "div"), line.gapped, item, _dots)
            else:
                add_gapped_row(add(step, "div"), line.gapped, item, _box(add_box, gap))
        if line.question is None:
            add_row(add(step, "div"), line.row, item)
        else:
            places[line.number] = step
    return places


def _box(add_box: Callable[[QtiElement, TaskGap], object], gap: TaskGap) -> Callable[[QtiElement], object]:
    return lambda parent: add_box(parent, gap)


def _dots(parent: QtiElement) -> None:
    add(parent, "span", text=phrases.LEFT_BLANK)


def _choice(
    parent: QtiElement, item: Item, response: WorkingTask, question: TaskQuestion, *, shuffle: bool
) -> None:
    attributes = {
        "response-identifier": _name(RESPONSE, response, question),
        "shuffle": "true" if shuffle and not question.ordered else "false",
        "max-choices": "1",
    }
    interaction = add(parent, "qti-choice-interaction", attributes)
    prompt = add(interaction, "qti-prompt")
    if question.line is not None:
        add_phrase(prompt, phrases.belongs_in_line(question.line), item)
    elif response.lines:
        add_phrase(prompt, phrases.WHICH_LINE, item)
    else:
        add_prose(prompt, item.prompt, item.conventions)
    for option in question.options:
        choice = add(interaction, "qti-simple-choice", {"identifier": option.identifier})
        # one block, for a reader that sets the parts of a choice side by side
        block = add(choice, "div")
        add_prose(add(block, "div"), option.shown, item.conventions)
        outcome = _name(FEEDBACK, response, question)
        add_shown_for(block, option.identifier, option.feedback, item, outcome)


def add_task_processing(processing: QtiElement, response: WorkingTask, marks: int, shown: str) -> None:
    """Append the rules of an item with several questions, or with gaps.

    A share is added for each right answer, unless a person scores. Full marks are set as they are, so that no sum of rounded shares stands for them.

    Args:
        processing: where they go.
        response: the questions.
        marks: for all right answers.
        shown: the value of SOLUTION once the worked solution may be seen.
    """
    share = decimal_text(response.share(marks), "down")
    scored = not is_scored_by_person(response)
    if scored:
        _float(add(processing, "qti-set-outcome-value", {"identifier": SCORE}), "0")
    for one in response.questions:
        name = _name(RESPONSE, response, one)
        if isinstance(one, TaskGap) and one.letter is None:
            add_listed(processing, name, _name(LISTED, response, one))
        if scored:
            right = add(add(processing, "qti-response-condition"), "qti-response-if")
            _is_right(right, response, one)
            total = add(add(right, "qti-set-outcome-value", {"identifier": SCORE}), "qti-sum")
            add(total, "qti-variable", {"identifier": SCORE})
            _float(total, share)
        given = add(add(processing, "qti-response-condition"), "qti-response-if")
        add(add(add(given, "qti-not"), "qti-is-null"), "qti-variable", {"identifier": name})
        _told(given, response, one)
        solution = add(given, "qti-set-outcome-value", {"identifier": SOLUTION})
        add(solution, "qti-base-value", {"base-type": "identifier"}, shown)
    if not scored:
        return
    every = add(add(processing, "qti-response-condition"), "qti-response-if")
    together = add(every, "qti-and")
    for one in response.questions:
        _is_right(together, response, one)
    _float(add(every, "qti-set-outcome-value", {"identifier": SCORE}), str(marks))


def _told(given: QtiElement, response: WorkingTask, asked: Asked) -> None:
    """What is said of an answer: of a choice by its option, of a gap by whether it is right."""
    feedback = _name(FEEDBACK, response, asked)
    told = add(given, "qti-set-outcome-value", {"identifier": feedback})
    if isinstance(asked, TaskQuestion):
        add(told, "qti-variable", {"identifier": _name(RESPONSE, response, asked)})
        return
    _identifier(told, told_of(asked, right=False))
    if asked.letter is None:
        right = add(add(given, "qti-response-condition"), "qti-response-if")
        add_is_right(right, _name(LISTED, response, asked))
        _identifier(add(right, "qti-set-outcome-value", {"identifier": feedback}), told_of(asked, right=True))


def _is_right(parent: QtiElement, response: WorkingTask, asked: Asked) -> None:
    if isinstance(asked, TaskGap):
        add_is_right(parent, _name(LISTED, response, asked))
        return
    match = add(parent, "qti-match")
    for kind in ("qti-variable", "qti-correct"):
        add(match, kind, {"identifier": _name(RESPONSE, response, asked)})


def _float(parent: QtiElement, value: str) -> None:
    add(parent, "qti-base-value", {"base-type": "float"}, value)


def _identifier(parent: QtiElement, value: str) -> None:
    add(parent, "qti-base-value", {"base-type": "identifier"}, value)
