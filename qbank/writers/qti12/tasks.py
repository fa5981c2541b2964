"""Tasks about working in QTI 1.2.

The plain standard lets one item have several responses: there is a choice or a box for each question, and a right answer
adds its share. A gap is shown by dots, since no box can stand in a line here. The profile of Common Cartridge knows no such item, so that a cartridge has a question for each; all of them show the
same lines, so that none gives another away. Its marks are a share in whole marks, one at least.
"""

from __future__ import annotations

from dataclasses import replace

from qbank.items.item import Item, Prose
from qbank.items.tasks.asked import Asked, TaskGap, TaskQuestion, WorkingTask
from qbank.maths.expression import as_fraction
from qbank.writers import phrases
from qbank.writers.exact_spellings import exact_spellings
from qbank.writers.formulas import Formulas
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.gaps import told_of
from qbank.writers.qti12.content import add_material, prose_html, task_html
from qbank.writers.qti12.follows import follows
from qbank.writers.qti12.names import RESPONSE, feedback_name
from qbank.writers.tree import Element, add

__all__ = ["add_task_conditions", "add_task_responses", "question_items", "spellings_of"]

#: characters that a box has room for
_NUMBER, _EXPRESSION = 12, 60


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
    last = _asked(response.questions[0]) if alone and response.lines else ()
    add_material(presentation, task_html(item, formulas, response, last))
    if any(one.letter is None for one in response.gaps):
        hint = (phrases.number_wanted(item.conventions.decimal),)
        add_material(presentation, prose_html(item, formulas, hint))
    for one in response.questions:
        name = RESPONSE if alone else one.identifier
        if isinstance(one, TaskGap):
            given = add(presentation, "response_str", {"ident": name, "rcardinality": "Single"})
            if not alone:
                add_material(given, prose_html(item, formulas, _asked(one)))
            columns = str(_NUMBER if one.letter is None else _EXPRESSION)
            size = {"fibtype": "String", "prompt": "Box", "rows": "1", "columns": columns}
            add(
                add(given, "render_fib", size),
                "response_label",
                {"ident": f"{one.identifier}T", "rshuffle": "No"},
            )
            continue
        given = add(presentation, "response_lid", {"ident": name, "rcardinality": "Single"})
        if not alone:
            add_material(given, prose_html(item, formulas, _asked(one)))
        mixed = "Yes" if shuffle and not one.ordered else "No"
        choice = add(given, "render_choice", {"shuffle": mixed})
        for option in one.options:
            label = add(choice, "response_label", {"ident": option.identifier})
            add_material(label, prose_html(item, formulas, option.shown))


def _asked(question: Asked) -> Prose:
    if isinstance(question, TaskQuestion):
        return (phrases.WHICH_LINE if question.line is None else phrases.belongs_in_line(question.line),)
    return phrases.belongs_in_gap(question)


def add_task_conditions(processing: Element, item: Item, response: WorkingTask, full: int) -> None:
    """Append the conditions of an item with several questions: one for each option, and for each spelling of a number.

    Args:
        processing: where they go.
        item: the item.
        response: the questions.
        full: the full score.
    """
    share = decimal_text(response.share(full), "up")
    for one in response.questions:
        if isinstance(one, TaskGap):
            for text in spellings_of(one, item):
                _condition(processing, one.identifier, text, share, told_of(one, right=True))
            continue
        for option in one.options:
            _condition(
                processing,
                one.identifier,
                option.identifier,
                share if option.right else None,
                option.identifier,
            )
    if response.gaps:
        rest = add(processing, "respcondition", {"continue": "No"})
        add(add(rest, "conditionvar"), "other")
        rest.parts += follows("Set", None, None)


def _condition(processing: Element, question: str, given: str, share: str | None, told: str) -> None:
    condition = add(processing, "respcondition", {"continue": "Yes"})
    test = add(condition, "conditionvar")
    add(test, "varequal", {"respident": question}, given)
    condition.parts += follows("Add", share, feedback_name(told))


def spellings_of(gap: TaskGap, item: Item) -> tuple[str, ...]:
    """The spellings of a number that is missing in a line."""
    value = as_fraction(gap.value)
    assert value is not None, "what is wanted is a number"
    return exact_spellings(value, item.conventions.decimal)
