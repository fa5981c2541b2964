"""One item: what kind it is, what is shown, how it is marked, and what the student is told."""

from __future__ import annotations

from collections.abc import Iterator
from typing import assert_never

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
from qbank.writers import phrases
from qbank.writers.characters import one_line, shown
from qbank.writers.formulas import Formulas
from qbank.writers.qti12.content import (
    add_material,
    answer_html,
    figure_html,
    marked_lines_html,
    option_html,
    prose_html,
)
from qbank.writers.qti12.matching import add_matching_responses
from qbank.writers.qti12.metadata import add_fields
from qbank.writers.qti12.names import RESPONSE, SOLUTION, Dialect
from qbank.writers.qti12.processing import add_processing, marked_by_a_person, told
from qbank.writers.qti12.tasks import add_task_responses
from qbank.writers.refusal import RefusalError
from qbank.writers.tree import Element, add

__all__ = ["add_item"]

#: response form -> the kinds of question that the profile of Common Cartridge names
_PROFILES = {
    "choice": "cc.multiple_choice.v0p1",
    "several-answers": "cc.multiple_response.v0p1",
    "matching": "cc.multiple_choice.v0p1",
    "first-step": "cc.multiple_choice.v0p1",
    "find-fault": "cc.multiple_choice.v0p1",
    "complete-working": "cc.multiple_choice.v0p1",
    "numeric": "cc.fib.v0p1",
    "evaluation": "cc.fib.v0p1",
    "coefficients": "cc.essay.v0p1",
    "free-expression": "cc.essay.v0p1",
    "show-that": "cc.essay.v0p1",
}
#: weights in the profile are whole numbers from 1 to this
_HEAVIEST = 99


def add_item(
    parent: Element, item: Item, dialect: Dialect, *, shuffle: bool, category: str | None = None
) -> Element:
    """Append an item.

    Args:
        parent: where it goes.
        item: the item.
        dialect: how it is written.
        shuffle: whether the reader may put the options of a choice in another order.
        category: under which a bank files the question.

    Raises:
        RefusalError: more marks than the profile's weights can say.
    """
    element = add(parent, "item", {"ident": item.identifier, "title": item.title}, unique=True)
    _metadata(element, item, dialect, category)
    _presentation(element, item, dialect, shuffle=shuffle)
    feedback = told(item)
    add_processing(element, item, dialect, feedback)
    for one in feedback:
        html = prose_html(item, dialect.formulas, one.prose)
        add_material(add(add(element, "itemfeedback", {"ident": one.name}), "flow_mat"), html)
    _solution(element, item, dialect.formulas)
    return element


def _metadata(element: Element, item: Item, dialect: Dialect, category: str | None) -> None:
    entries = {"cc_profile": _profile(item)}
    if category is not None:
        entries["cc_question_category"] = shown(one_line(category))
    if dialect.percent:
        if item.marks > _HEAVIEST:
            what = f"a question of a cartridge has at most {_HEAVIEST} marks, and this one has {item.marks}"
            raise RefusalError(
                item.identifier, what, "give it fewer marks in the bank, or choose another format"
            )
        entries["cc_weighting"] = str(item.marks)
    entries["qmd_scoringpermitted"] = "Yes"
    entries["qmd_computerscored"] = "No" if marked_by_a_person(item) else "Yes"
    add_fields(add(element, "itemmetadata"), entries)


def _profile(item: Item) -> str:
    if isinstance(item.response, WorkingTask) and item.response.gaps:
        return _PROFILES["free-expression" if marked_by_a_person(item) else "numeric"]
    return _PROFILES[item.form]


def _presentation(element: Element, item: Item, dialect: Dialect, *, shuffle: bool) -> None:
    presentation, formulas = add(element, "presentation"), dialect.formulas
    match item.response:
        case Choice() | SeveralAnswers():
            add_material(presentation, prose_html(item, formulas, item.prompt) + _figure(item, dialect))
            _options(presentation, item, item.response, formulas, shuffle=shuffle)
        case Matching():
            add_matching_responses(presentation, item, item.response, formulas, shuffle=shuffle)
        case WorkingTask():
            add_task_responses(presentation, item, item.response, formulas, shuffle=shuffle)
        case Numeric():
            hint = (phrases.typed(item.conventions.decimal),)
            add_material(
                presentation,
                prose_html(item, formulas, item.prompt)
                + _figure(item, dialect)
                + prose_html(item, formulas, hint),
            )
            _box(presentation, rows=1, columns=12)
        case Coefficients() | FreeExpression():
            add_material(presentation, prose_html(item, formulas, item.prompt))
            _box(presentation, rows=6, columns=80)
        case _:
            assert_never(item.response)


def _figure(item: Item, dialect: Dialect) -> bytes:
    if item.figure is None or dialect.figures is None:
        return b""
    return figure_html(item, item.figure, dialect.figures, dialect.formulas.folder)


def _options(
    presentation: Element,
    item: Item,
    response: Choice | SeveralAnswers,
    formulas: Formulas,
    *,
    shuffle: bool,
) -> None:
    many = "Single" if isinstance(response, Choice) else "Multiple"
    given = add(presentation, "response_lid", {"ident": RESPONSE, "rcardinality": many})
    choice = add(given, "render_choice", {"shuffle": "Yes" if shuffle else "No"})
    for option in response.options:
        label = add(choice, "response_label", {"ident": option.identifier})
        add_material(label, option_html(item, formulas, option.answer))


def _box(presentation: Element, *, rows: int, columns: int) -> None:
    given = add(presentation, "response_str", {"ident": RESPONSE, "rcardinality": "Single"})
    size = {"fibtype": "String", "prompt": "Box", "rows": str(rows), "columns": str(columns)}
    add(add(given, "render_fib", size), "response_label", {"ident": "ANSWER", "rshuffle": "No"})


def _solution(element: Element, item: Item, formulas: Formulas) -> None:
    """The worked solution, and for a person who marks the rubric: the one place that is shown after the answer only."""
    solution = add(add(element, "itemfeedback", {"ident": SOLUTION}), "solution")
    flow = add(add(solution, "solutionmaterial"), "flow_mat")
    if marked_by_a_person(item):
        add_material(flow, prose_html(item, formulas, *_rubric(item), (phrases.marks(item.marks),)))
        if isinstance(item.response, FreeExpression) and any(item.response.line_marks):
            add_material(flow, marked_lines_html(item, formulas, item.response.line_marks))
    add_material(flow, answer_html(item, formulas))


def _rubric(item: Item) -> Iterator[Prose]:
    match item.response:
        case FreeExpression(rubric=rubric):
            yield rubric
        case WorkingTask(questions=questions):
            yield from map(phrases.belongs_there, questions)
