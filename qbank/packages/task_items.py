"""Tasks about working in items of QTI 2 or 3: the lines in a list, a choice below it or where a line is left blank."""

from __future__ import annotations

from qbank.packages.evaluations import asked_integral
from qbank.packages.parsing import Element, attribute, children, inside, kind
from qbank.packages.processing import correct_response, outcomes
from qbank.packages.question import AskedTask, Question, TaskLine, TaskShown
from qbank.packages.shown import FEEDBACK, formulas_below, full_marks, shown_before_answering, words_in
from qbank.packages.tasks import has_words, read_choices, task_of

__all__ = ["in_a_line", "offers_words", "read_task"]


def in_a_line(interaction: Element) -> bool:
    """Whether a choice stands where a line of a working is left blank."""
    return kind(interaction) == "choiceinteraction" and any(
        kind(around) == "li" for around in interaction.iterancestors()
    )


def offers_words(interaction: Element) -> bool:
    """Whether a choice is between steps, and not between answers."""
    return any(has_words(words_in(choice)) for choice in children(interaction, "simplechoice"))


def read_task(item: Element, interactions: list[Element]) -> Question:
    """Tasks about working: a choice for each question."""
    shown = []
    for one in interactions:
        options = [
            TaskShown(
                identifier=attribute(choice, "identifier") or "",
                statements=tuple(formulas_below(choice, hidden=FEEDBACK)),
                text=words_in(choice),
            )
            for choice in children(one, "simplechoice")
        ]
        shown.append((attribute(one, "responseidentifier") or "", options))
    keys = [" ".join(correct_response(item, name)) for name, _ in shown]
    questions = read_choices(
        shown, keys, full_marks(item), lambda given: outcomes(item, dict(given)).get("SCORE")
    )
    lines = _task_lines(item)
    return Question(
        identifier=attribute(item, "identifier") or "",
        integral=asked_integral(shown_before_answering(item, "ol")),
        answers=AskedTask(task=task_of(lines), questions=questions, lines=lines),
    )


def _task_lines(item: Element) -> tuple[TaskLine, ...]:
    """The lines of a working that a student reads before answering."""
    lists = [part for body in children(item, "itembody") for part in children(body, "ol")]
    return tuple(_task_line(line) for one in lists for line in children(one, "li"))


def _task_line(line: Element) -> TaskLine:
    blank = [attribute(one, "responseidentifier") for one in inside(line, "choiceinteraction")]
    if blank:
        return TaskLine(statements=(), question=blank[0] or "")
    return TaskLine(statements=tuple(formulas_below(line, hidden=FEEDBACK)))
