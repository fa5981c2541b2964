"""Tasks about working in items of QTI 1.2: the lines in a list, dots where something is left blank, and a choice or a box for each question."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import islice

from qbank.maths.equation import Statement
from qbank.maths.expression import Expression, Integral, as_fraction
from qbank.maths.notation import plain
from qbank.packages.conditions import compared, full_score, score
from qbank.packages.evaluations import asked_integral
from qbank.packages.gapped import gapped_row
from qbank.packages.parsing import Element, attribute, children, inside, kind, text_of
from qbank.packages.question import AskedTask, QuestionError, TaskLine, TaskShown
from qbank.packages.shown import formulas_in, words_in
from qbank.packages.task_reading import Typed, read_asked, typed
from qbank.packages.tasks import task_of
from qbank.writers.phrases import LEFT_BLANK

__all__ = ["is_task", "read_task"]

#: an option is named after its question, `Q1A`; a box that is to be filled for one has a T behind it
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
    lines = _lines(pages, [name for name, _ in choices], solution)
    shown: list[tuple[str, list[TaskShown] | Typed]] = []
    keys: dict[str, str] = {}
    by_person = not compared(item)
    rubric = _rubric(solution) if by_person else ()
    for place, (name, options) in enumerate(choices):
        if _is_box(options):
            shown.append((name, _typed(item, name, rubric[place : place + 1])))
            continue
        found = [
            TaskShown(
                identifier=identifier,
                statements=tuple(one for page in option for one in formulas_in(page)),
                text=" ".join(words_in(page) for page in option),
            )
            for identifier, option in options
        ]
        shown.append((name, found))
        keys[name] = " ".join(
            one.identifier
            for one in found
            if (
                (one.statements,) == rubric[place : place + 1]
                if by_person
                else score(item, {name: one.identifier}) > 0
            )
        )
    questions = read_asked(shown, keys, full_score(item), lambda given: score(item, dict(given)))
    before = [
        statement for page in pages for part in page if kind(part) != "ol" for statement in formulas_in(part)
    ]
    return asked_integral(before), AskedTask(task=task_of(lines), questions=questions, lines=lines)


def _is_box(options: Sequence[tuple[str, Sequence[Element]]]) -> bool:
    """Whether a response has no options, but a box."""
    return [bool(shown) for _, shown in options] == [False]


def _typed(item: Element, name: str, rubric: tuple[tuple[Statement, ...], ...]) -> Typed:
    """What is said of a gap: the spellings that score, or, for a person who marks, what belongs there."""
    texts = [text_of(test) for test in inside(item, "varequal") if attribute(test, "respident") == name]
    if texts:
        return typed(texts[0], tuple(dict.fromkeys(texts)))
    match rubric:
        case ((Expression() as value, *_),):
            return Typed(plain(value), value, as_fraction(value) is not None, ())
        case _:
            raise QuestionError("it does not say what belongs in a gap")


def _rubric(solution: Callable[[], Iterable[Element]]) -> tuple[tuple[Statement, ...], ...]:
    """For each question the formulas of what belongs there, which stand above the worked solution."""
    return tuple(tuple(formulas_in(part)) for page in islice(solution(), 1) for part in page)


def _is_dots(element: Element) -> bool:
    return kind(element) == "span" and text_of(element) == LEFT_BLANK


def _lines(
    pages: Sequence[Element], names: Sequence[str], solution: Callable[[], Iterable[Element]]
) -> tuple[TaskLine, ...]:
    """The lines of a working; one without mathematics is blank, or a piece of one is.

    In a cartridge a question asks for one of several blanks, by its number. The others are taken from the worked
    solution, as a place to stand on: whatever stands there, the line asked for has to follow from it.
    """
    shown = [_line(line) for line in _listed(pages)]
    blank = [at for at, line in enumerate(shown) if not line.statements or line.place is not None]
    if not blank:
        return tuple(shown)
    if len(names) == len(blank):
        asked = dict(zip(blank, names, strict=True))
    else:
        below = [page[-1] for page in pages if next(inside(page, "ol"), None) is not None]
        numbers = [int(found) for part in below for found in _NUMBERS.findall(words_in(part))]
        if len(names) != 1 or len(numbers) != 1 or numbers[0] - 1 not in blank:
            raise QuestionError("the question does not say which line is asked for")
        asked = {numbers[0] - 1: names[0]}
    solved = [tuple(formulas_in(line)) for line in _listed(solution())]
    if len(solved) != len(shown):
        raise QuestionError("the worked solution has not the lines of the working")
    return tuple(
        replace(line, question=asked[at])
        if at in asked and line.statements
        else TaskLine(statements=solved[at] if at in blank else line.statements, question=asked.get(at))
        for at, line in enumerate(shown)
    )


def _line(line: Element) -> TaskLine:
    found = gapped_row(line, _is_dots)
    if found is None:
        return TaskLine(statements=tuple(formulas_in(line)))
    return TaskLine(statements=found.statements, place=found.place)


def _listed(pages: Iterable[Element]) -> list[Element]:
    """The lines of the lists in some pages."""
    return [line for page in pages for one in inside(page, "ol") for line in children(one, "li")]
