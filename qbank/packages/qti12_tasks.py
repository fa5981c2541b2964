"""Tasks about working in items of QTI 1.2: the lines in a list, dots where one is left blank, and a choice for each question."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence

from qbank.maths.equation import Statement
from qbank.maths.expression import Integral
from qbank.packages.conditions import full_score, score
from qbank.packages.evaluations import asked_integral
from qbank.packages.parsing import Element, attribute, children, inside, kind
from qbank.packages.question import AskedTask, QuestionError, TaskLine, TaskShown
from qbank.packages.shown import formulas_in, words_in
from qbank.packages.tasks import read_choices, task_of

__all__ = ["is_task", "read_task"]

_OF_A_TASK = re.compile(r"Q[0-9]+[A-Z]")
_NUMBERS = re.compile(r"[0-9]{1,2}")


def is_task(given: Element) -> bool:
    """Whether the options of a choice are named after the question of a task, `Q1A`."""
    names = [attribute(label, "ident") or "" for label in inside(given, "response_label")]
    return bool(names) and all(_OF_A_TASK.fullmatch(name) for name in names)


def read_task(
    item: Element,
    pages: Sequence[Element],
    choices: Sequence[tuple[str, Sequence[tuple[str, Sequence[Element]]]]],
    solution: Callable[[], Iterable[Element]],
) -> tuple[Integral, AskedTask]:
    """The integral of a task, and what is asked.

    Args:
        item: the item.
        pages: what is shown before the choices.
        choices: of each response variable the options, with what each shows.
        solution: finds what is shown after an answer only.

    Raises:
        QuestionError: it is of another make, or its scores contradict themselves.
    """
    shown = [
        (
            name,
            [
                TaskShown(
                    identifier=identifier,
                    statements=tuple(one for page in option for one in formulas_in(page)),
                    text=" ".join(words_in(page) for page in option),
                )
                for identifier, option in options
            ],
        )
        for name, options in choices
    ]
    keys = [
        " ".join(one.identifier for one in options if score(item, {name: one.identifier}) > 0)
        for name, options in shown
    ]
    questions = read_choices(shown, keys, full_score(item), lambda given: score(item, dict(given)))
    lines = _lines(pages, [name for name, _ in choices], solution)
    before = [
        statement for page in pages for part in page if kind(part) != "ol" for statement in formulas_in(part)
    ]
    return asked_integral(before), AskedTask(task=task_of(lines), questions=questions, lines=lines)


def _lines(
    pages: Sequence[Element], names: Sequence[str], solution: Callable[[], Iterable[Element]]
) -> tuple[TaskLine, ...]:
    """The lines of a working; one without mathematics is blank.

    In a cartridge a question asks for one of several blank lines, by its number. The others are taken from the worked
    solution, as a place to stand on: whatever stands there, the line asked for has to follow from it.
    """
    shown = _statements(pages)
    blank = [at for at, statements in enumerate(shown) if not statements]
    if not blank:
        return tuple(TaskLine(statements=statements) for statements in shown)
    if len(names) == len(blank):
        asked = dict(zip(blank, names, strict=True))
    else:
        numbers = [int(found) for page in pages for found in _NUMBERS.findall(words_in(page[-1]))]
        if len(names) != 1 or len(numbers) != 1 or numbers[0] - 1 not in blank:
            raise QuestionError("the question does not say which line is asked for")
        asked = {numbers[0] - 1: names[0]}
    solved = _statements(solution())
    if len(solved) != len(shown):
        raise QuestionError("the worked solution has not the lines of the working")
    return tuple(
        TaskLine(statements=statements or solved[at], question=asked.get(at))
        for at, statements in enumerate(shown)
    )


def _statements(pages: Iterable[Element]) -> list[tuple[Statement, ...]]:
    """The formulas of each line of the lists in some pages."""
    lists = [one for page in pages for one in inside(page, "ol")]
    return [tuple(formulas_in(line)) for one in lists for line in children(one, "li")]
