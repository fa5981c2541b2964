"""Tasks about working in QTI 1.2.

The plain standard lets one item have several responses: there is a choice for each question, and a right one adds its
share. The profile of Common Cartridge knows no such item, so that a cartridge has a question for each; all of them show the
same lines, so that none gives another away. Its marks are a share in whole marks, one at least.
"""

from __future__ import annotations

from dataclasses import replace

from qbank.items.item import Item
from qbank.items.tasks.asked import TaskQuestion, WorkingTask
from qbank.writers import phrases
from qbank.writers.formulas import Formulas
from qbank.writers.numbers import decimal_text
from qbank.writers.qti12.content import add_material, prose_html, task_html
from qbank.writers.qti12.names import RESPONSE, SCORE, SOLUTION, feedback_name
from qbank.writers.tree import Element, add

__all__ = ["add_task_conditions", "add_task_responses", "question_items"]


def question_items(item: Item, response: WorkingTask) -> tuple[Item, ...]:
    """An item for each question of a task, with all the lines."""
    if len(response.questions) == 1:
        return (item,)
    return tuple(
        replace(
            item,
            identifier=f"{item.identifier}-{one.identifier}",
            marks=max(1, item.marks // len(response.questions)),
            response=replace(response, questions=(one,)),
        )
        for one in response.questions
    )


def add_task_responses(
    presentation: Element, item: Item, response: WorkingTask, formulas: Formulas, *, shuffle: bool
) -> None:
    """Append what is asked, and a choice for each question."""
    alone = len(response.questions) == 1
    last = (_asked(response.questions[0]),) if alone and response.lines else ()
    add_material(presentation, task_html(item, formulas, response, last))
    for one in response.questions:
        name = RESPONSE if alone else one.identifier
        given = add(presentation, "response_lid", {"ident": name, "rcardinality": "Single"})
        if not alone:
            add_material(given, prose_html(item, formulas, (_asked(one),)))
        mixed = "Yes" if shuffle and not one.ordered else "No"
        choice = add(given, "render_choice", {"shuffle": mixed})
        for option in one.options:
            label = add(choice, "response_label", {"ident": option.identifier})
            add_material(label, prose_html(item, formulas, option.shown))


def _asked(question: TaskQuestion) -> str:
    return phrases.WHICH_LINE if question.line is None else phrases.belongs_in_line(question.line)


def add_task_conditions(processing: Element, response: WorkingTask, full: int) -> None:
    """Append the conditions of an item with several questions: one for each option.

    Args:
        processing: where they go.
        response: the questions.
        full: the full score.
    """
    share = decimal_text(response.share(full), "up")
    for one in response.questions:
        for option in one.options:
            condition = add(processing, "respcondition", {"continue": "Yes"})
            test = add(condition, "conditionvar")
            add(test, "varequal", {"respident": one.identifier}, option.identifier)
            if option.right:
                add(condition, "setvar", {"action": "Add", "varname": SCORE}, share)
            name = feedback_name(option.identifier)
            add(condition, "displayfeedback", {"feedbacktype": "Response", "linkrefid": name})
            add(condition, "displayfeedback", {"feedbacktype": "Solution", "linkrefid": SOLUTION})
