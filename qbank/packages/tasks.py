"""Tasks about working, read back and proved again from what students see.

A first step has to be the opening of some solution that the techniques find; a wrong one leads to none, and a rule that
is misused is refuted at a point. Of a working with a fault every line is decided: the keyed one has to be refuted, the others
proved to follow. What is to be chosen for a blank line is decided where it would stand.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from qbank.items.tasks.asked import TaskName
from qbank.marking.entry import Marked
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.equation import Equation
from qbank.maths.expression import Integral
from qbank.maths.verdict import Proved, Refuted, Verdict
from qbank.messages import in_language, languages, say
from qbank.packages.finding import Finding
from qbank.packages.processing import is_share
from qbank.packages.question import AskedTask, QuestionError, TaskChoice, TaskLine, TaskShown
from qbank.techniques.following import follow, follows, numbers_named
from qbank.techniques.misused_rules import misused_rules
from qbank.techniques.opening import Pieces, by_parts_with, leads_on, let, opening_of
from qbank.techniques.planner import solve_all

__all__ = ["has_words", "mark_task", "prove_task", "read_choices", "task_of"]

_MOST = 12
_NUMBER = re.compile(r"[0-9]{1,2}")


def has_words(text: str) -> bool:
    """Whether a text has words in it, and not formulas alone.

    >>> has_words("Let  ."), has_words(" . ")
    (True, False)
    """
    return any(part.isalpha() for part in text)


def task_of(lines: Sequence[TaskLine]) -> TaskName:
    """Which task it is, by the lines that are shown."""
    if not lines:
        return "first-step"
    return "complete-working" if any(line.question is not None for line in lines) else "find-fault"


def read_choices(
    shown: Sequence[tuple[str, Sequence[TaskShown]]],
    keys: Sequence[str],
    marks: Fraction,
    score: Callable[[dict[str, str]], object],
) -> tuple[TaskChoice, ...]:
    """The questions of a task with what each option scores.

    Args:
        shown: for each response variable, its options.
        keys: for each, the option declared as right.
        marks: full marks.
        score: what a choice of options scores, by response variable.

    Raises:
        QuestionError: the scores contradict the keys.
    """
    found = []
    share = marks / len(shown)
    for (name, options), key in zip(shown, keys, strict=True):
        known = [one.identifier for one in options]
        if len(set(known)) != len(known) or key not in known or len(known) > _MOST:
            raise QuestionError(
                "the options have not all identifiers of their own, or the key is none of them"
            )
        for one in known:
            if not is_share(score({name: one}), share if one == key else Fraction(0)):
                raise QuestionError(f"the option {one} does not score its share")
        found.append(TaskChoice(identifier=name, options=tuple(options), key=key))
    if score(dict(zip((name for name, _ in shown), keys, strict=True))) != marks or score({}) != 0:
        raise QuestionError("the right options do not score full marks, or none at all do not score 0")
    return tuple(found)


def prove_task(asked: AskedTask, integral: Integral) -> Finding:
    """Prove each right option, and refute every other one."""
    proved = refuted = 0
    problems: list[str] = []
    for name, right, wanted in _judged(asked, integral):
        if right is None:
            problems.append(f"{name} could be neither proved nor refuted")
        elif right and wanted:
            proved += 1
        elif not right and not wanted:
            refuted += 1
        else:
            problems.append(
                f"{name} is right, but scores nothing" if right else f"{name} is wrong, but scores"
            )
    return Finding(proved=proved, refuted=refuted, problems=tuple(problems))


def _judged(asked: AskedTask, integral: Integral) -> Iterator[tuple[str, bool | None, bool]]:
    """Each option: its name, whether it is right, and whether it scores."""
    verdicts = follow(asked.lines, integral) if asked.task == "find-fault" else ()
    for question in asked.questions:
        for option in question.options:
            keyed = option.identifier == question.key
            if asked.task == "find-fault":
                right = _is_faulty(option, verdicts)
            elif asked.task == "complete-working":
                right = _belongs(option, question.identifier, asked, integral)
            else:
                right = _is_first_step(option, integral, right=keyed)
            yield option.identifier, right, keyed


def _is_faulty(option: TaskShown, verdicts: Sequence[Verdict]) -> bool | None:
    """Whether the line that an option names does not follow."""
    number = _NUMBER.search(option.text)
    if number is None or not 1 <= int(number[0]) <= len(verdicts):
        return None
    match verdicts[int(number[0]) - 1]:
        case Refuted():
            return True
        case Proved():
            return False
        case _:
            return None


def _belongs(option: TaskShown, name: str, asked: AskedTask, integral: Integral) -> bool | None:
    """Whether a line belongs where the question stands, the other blank lines being those that score."""
    keys = {
        question.identifier: one.statements
        for question in asked.questions
        for one in question.options
        if one.identifier == question.key
    }
    lines = [
        TaskLine(statements=keys.get(line.question or "", line.statements), question=line.question)
        for line in asked.lines
    ]
    places = [at for at, line in enumerate(lines) if line.question == name]
    if len(places) != 1:
        return None
    (place,) = places
    shown = TaskLine(statements=option.statements)
    match follows(shown, lines[:place], integral, numbers_named(lines)):
        case Proved() if shown.kind == lines[place].kind:
            return True
        case Refuted():
            return False
        case _:
            return None


def _is_first_step(option: TaskShown, integral: Integral, *, right: bool) -> bool | None:
    """Whether a step opens a solution; None where it can be judged in no way."""
    integrand, variable = integral.integrand, integral.variable
    opens = any(_same(opening_of(one), option) for one in solve_all(integrand, variable) if one.lines)
    if opens or right:
        return opens
    for misused in misused_rules(integrand, variable):
        if _same(misused.shown, option):
            verdict = decide_antiderivative(misused.answer, integrand, variable)
            return False if isinstance(verdict, Refuted) else None
    match option.statements:
        case ():
            return leads_on((_words(option.text),), integrand, variable)
        case (Equation() as definition,):
            return leads_on(let(definition), integrand, variable)
        case (Equation() as u, Equation() as dv):
            return leads_on(by_parts_with(u, dv), integrand, variable)
        case _:
            return None


def _same(pieces: Pieces, option: TaskShown) -> bool:
    """Whether an option shows these words, in whatever language, and these formulas."""
    return any(_shows(option, in_language(pieces, tag)) for tag in languages())


def _shows(option: TaskShown, pieces: Pieces) -> bool:
    formulas = tuple(piece for piece in pieces if not isinstance(piece, str))
    words = " ".join(piece for piece in pieces if isinstance(piece, str))
    return formulas == option.statements and _words(words) == _words(option.text)


def _words(text: str) -> str:
    return " ".join(text.split())


def mark_task(asked: AskedTask, integral: Integral, given: dict[str, str]) -> Marked:
    """Mark the options that a student chose elsewhere.

    Args:
        asked: the task.
        integral: of its question.
        given: the option chosen, by response variable.
    """
    if not any(given.values()):
        return Marked(verdict="unreadable", remarks=("no-answer",), message=say("No option was chosen."))
    known = {name: right for name, right, _ in _judged(asked, integral)}
    right = 0
    for question in asked.questions:
        if given.get(question.identifier) == question.key:
            if not known[question.key]:
                return Marked(
                    verdict="unsettled",
                    message=say("Option {option} could not be decided.", option=question.key),
                )
            right += 1
    every = len(asked.questions)
    full = right == every
    return Marked(
        verdict="correct" if full else "incorrect",
        score=right / every,
        proof="each right option was proved again",
        message=say("Right.")
        if full
        else say("{right} of {every} answers are right.", right=str(right), every=str(every)),
    )
