"""Tasks about working in items of QTI 2 or 3: the lines in a list, a choice below it or where a line is left blank, boxes in the lines."""

from __future__ import annotations

from qbank.packages.evaluations import asked_integral
from qbank.packages.gapped import gapped_row
from qbank.packages.parsing import Element, attribute, children, inside, kind
from qbank.packages.processing import correct_response, outcomes
from qbank.packages.question import AskedTask, Question, TaskLine, TaskShown
from qbank.packages.shown import FEEDBACK, formulas_below, full_marks, shown_before_answering, words_in
from qbank.packages.task_reading import Typed, read_asked, typed
from qbank.packages.tasks import has_words, task_of

__all__ = ["in_a_line", "offers_words", "read_task"]

_CHOICE, _TEXT = "choiceinteraction", "textentryinteraction"


def in_a_line(interaction: Element) -> bool:
    """Whether a choice or a box stands where something is left blank in a working."""
    return kind(interaction) in (_CHOICE, _TEXT) and any(
        kind(around) == "li" for around in interaction.iterancestors()
    )


def offers_words(interaction: Element) -> bool:
    """Whether a choice is between steps, and not between answers."""
    return any(has_words(words_in(choice)) for choice in children(interaction, "simplechoice"))


def read_task(item: Element, interactions: list[Element]) -> Question:
    """Tasks about working: a choice for each question, or a box."""
    shown: list[tuple[str, list[TaskShown] | Typed]] = []
    keys: dict[str, str] = {}
    for one in interactions:
        name = attribute(one, "responseidentifier") or ""
        keys[name] = " ".join(correct_response(item, name))
        if kind(one) == _TEXT:
            shown.append((name, _typed(item, name, keys[name])))
            continue
        options = [
            TaskShown(
                identifier=attribute(choice, "identifier") or "",
                statements=tuple(formulas_below(choice, hidden=FEEDBACK)),
                text=words_in(choice),
            )
            for choice in children(one, "simplechoice")
        ]
        shown.append((name, options))
    questions = read_asked(
        shown, keys, full_marks(item), lambda given: outcomes(item, dict(given)).get("SCORE")
    )
    lines = _task_lines(item)
    return Question(
        identifier=attribute(item, "identifier") or "",
        integral=asked_integral(shown_before_answering(item, "ol")),
        answers=AskedTask(task=task_of(lines), questions=questions, lines=lines),
    )


def _typed(item: Element, name: str, key: str) -> Typed:
    """What is declared of a gap: a number has a list of spellings, an expression has none."""
    texts = tuple(
        attribute(entry, "mapkey") or ""
        for declaration in children(item, "responsedeclaration")
        if attribute(declaration, "identifier") == name
        for mapping in children(declaration, "mapping")
        for entry in children(mapping, "mapentry")
    )
    return typed(key, texts)


def _task_lines(item: Element) -> tuple[TaskLine, ...]:
    """The lines of a working that a student reads before answering."""
    lists = [part for body in children(item, "itembody") for part in children(body, "ol")]
    return tuple(_task_line(line) for one in lists for line in children(one, "li"))


def _task_line(line: Element) -> TaskLine:
    blank = [attribute(one, "responseidentifier") for one in inside(line, _CHOICE)]
    if blank:
        return TaskLine(statements=(), question=blank[0] or "")
    found = gapped_row(next(children(line, "div"), line), lambda element: kind(element) == _TEXT)
    if found is None:
        return TaskLine(statements=tuple(formulas_below(line, hidden=FEEDBACK)))
    name = attribute(found.box, "responseidentifier") or ""
    return TaskLine(statements=found.statements, question=name, place=found.place)
