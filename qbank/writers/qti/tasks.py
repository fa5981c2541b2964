"""Tasks about working: the lines, a choice for each question, and what each choice adds to the score.

A blank line has its choice where the line would stand. An item with a single question is declared and scored as a single
choice is; of several, each has a response variable and a feedback variable of its own.
"""

from __future__ import annotations

from qbank.items.item import Item
from qbank.items.tasks.asked import TaskQuestion, WorkingTask
from qbank.writers import phrases
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.content import add_phrase, add_prose, add_row, add_text
from qbank.writers.qti.elements import QtiElement, add
from qbank.writers.qti.feedback import add_shown_for
from qbank.writers.qti.names import FEEDBACK, RESPONSE, SCORE, SOLUTION

__all__ = ["add_lines", "add_task", "add_task_processing", "declare_task", "feedback_names"]


def _name(base: str, response: WorkingTask, question: TaskQuestion) -> str:
    return base if len(response.questions) == 1 else f"{base}_{question.identifier}"


def feedback_names(response: WorkingTask) -> tuple[str, ...]:
    """The outcome variables that say which feedback is seen."""
    return tuple(_name(FEEDBACK, response, one) for one in response.questions)


def declare_task(top: QtiElement, response: WorkingTask) -> None:
    """Append the declarations of the response variables."""
    for one in response.questions:
        name = _name(RESPONSE, response, one)
        attributes = {"identifier": name, "cardinality": "single", "base-type": "identifier"}
        declaration = add(top, "qti-response-declaration", attributes)
        add(add(declaration, "qti-correct-response"), "qti-value", text=one.key.identifier)


def add_task(body: QtiElement, item: Item, response: WorkingTask, *, shuffle: bool) -> None:
    """Append the question, the lines, and the choices."""
    asked = {one.identifier: one for one in response.questions}
    if response.lines:
        add_prose(add(body, "p"), item.prompt, item.conventions)
    lines = add_lines(body, item, response)
    for line in response.lines:
        if line.question is not None:
            place = lines[line.number]
            _choice(place, item, response, asked.pop(line.question), shuffle=shuffle)
    for one in asked.values():
        _choice(body, item, response, one, shuffle=shuffle)


def add_lines(parent: QtiElement, item: Item, response: WorkingTask) -> dict[int, QtiElement]:
    """Append the lines of the working as a numbered list.

    Returns:
        Where the blank lines stand, by number.
    """
    places: dict[int, QtiElement] = {}
    if not response.lines:
        return places
    steps = add(parent, "ol")
    for line in response.lines:
        step = add(steps, "li")
        if response.reasons:
            add_text(step, line.row.reason)
        if line.question is None:
            add_row(add(step, "div"), line.row, item)
        else:
            places[line.number] = step
    return places


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
    """Append the rules of an item with several questions.

    A share is added for each right answer. Full marks are set as they are, so that no sum of rounded shares stands for them.

    Args:
        processing: where they go.
        response: the questions.
        marks: for all right answers.
        shown: the value of SOLUTION once the worked solution may be seen.
    """
    share = decimal_text(response.share(marks), "down")
    names = [(_name(RESPONSE, response, one), _name(FEEDBACK, response, one)) for one in response.questions]
    _float(add(processing, "qti-set-outcome-value", {"identifier": SCORE}), "0")
    for name, feedback in names:
        right = add(add(processing, "qti-response-condition"), "qti-response-if")
        _is_right(right, name)
        total = add(add(right, "qti-set-outcome-value", {"identifier": SCORE}), "qti-sum")
        add(total, "qti-variable", {"identifier": SCORE})
        _float(total, share)
        given = add(add(processing, "qti-response-condition"), "qti-response-if")
        add(add(add(given, "qti-not"), "qti-is-null"), "qti-variable", {"identifier": name})
        told = add(given, "qti-set-outcome-value", {"identifier": feedback})
        add(told, "qti-variable", {"identifier": name})
        solution = add(given, "qti-set-outcome-value", {"identifier": SOLUTION})
        add(solution, "qti-base-value", {"base-type": "identifier"}, shown)
    every = add(add(processing, "qti-response-condition"), "qti-response-if")
    together = add(every, "qti-and")
    for name, _ in names:
        _is_right(together, name)
    _float(add(every, "qti-set-outcome-value", {"identifier": SCORE}), str(marks))


def _is_right(parent: QtiElement, name: str) -> None:
    match = add(parent, "qti-match")
    add(match, "qti-variable", {"identifier": name})
    add(match, "qti-correct", {"identifier": name})


def _float(parent: QtiElement, value: str) -> None:
    add(parent, "qti-base-value", {"base-type": "float"}, value)
