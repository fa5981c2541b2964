"""Tasks about working, read back and proved again from what students see.

A first step has to be the opening of some solution that the techniques find; a wrong one leads to none, and a rule that
is misused is refuted at a point. Of a working with a fault every line is decided: the keyed one has to be refuted, the others
proved to follow. What is to be chosen for a blank line is decided where it would stand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from qbank.items.tasks.asked import TaskName
from qbank.marking.entry import Marked
from qbank.marking.gaps import fill
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.equation import Equation
from qbank.maths.expression import Integral, as_fraction
from qbank.maths.verdict import Proved, Refuted, Verdict
from qbank.messages import in_language, languages, say
from qbank.packages.finding import Finding
from qbank.packages.question import AskedTask, TaskChoice, TaskLine, TaskShown, TaskTyped
from qbank.packages.spelled import exact_number
from qbank.techniques.blanking import Blank, blank, filled
from qbank.techniques.following import follow, follows, numbers_named
from qbank.techniques.misused_rules import misused_rules
from qbank.techniques.opening import Pieces, by_parts_with, leads_on, let, opening_of
from qbank.techniques.pieces import pieces_of
from qbank.techniques.planner import solve_all

__all__ = ["blank_of", "has_words", "mark_task", "prove_task", "task_of"]

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


def prove_task(asked: AskedTask, integral: Integral) -> Finding:
    """Prove each right option and each filling of a gap, and refute every other option."""
    proved = refuted = 0
    problems: list[str] = []
    for question in asked.questions:
        if isinstance(question, TaskTyped):
            found = blank_of(asked, question, integral)
            if isinstance(found, Blank):
                proved += 1
            else:
                problems.append(f"{question.identifier}: its key is not proved to be the only one: {found}")
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
        if isinstance(question, TaskTyped):
            continue
        for option in question.options:
            keyed = option.identifier == question.key
            if asked.task == "find-fault":
                right = _is_faulty(option, verdicts)
            elif asked.task == "complete-working":
                right = _belongs(option, question.identifier, asked, integral)
            else:
                right = _is_first_step(option, integral, right=keyed)
            yield option.identifier, right, keyed


def _whole(asked: AskedTask) -> list[TaskLine]:
    """The lines with what scores in the place of what is asked for."""
    keys = {question.identifier: question for question in asked.questions}
    return [_filled(line, keys.get(line.question or "")) for line in asked.lines]


def _filled(line: TaskLine, question: TaskChoice | TaskTyped | None) -> TaskLine:
    match question:
        case TaskChoice(options=options, key=key):
            (statements,) = (one.statements for one in options if one.identifier == key)
            return TaskLine(statements=statements, question=line.question)
        case TaskTyped(key=value):
            return TaskLine(
                statements=tuple(filled(one, value) for one in line.statements), question=line.question
            )
        case _:
            return line


def blank_of(asked: AskedTask, question: TaskTyped, integral: Integral) -> Blank | str:
    """The gap of a question, proved to have one filling only; or why it is none.

    Args:
        asked: the task.
        question: one of its questions.
        integral: what the working starts from.
    """
    places = [at for at, line in enumerate(asked.lines) if line.question == question.identifier]
    if len(places) != 1 or (place := asked.lines[places[0]].place) is None:
        return "it has no line of its own"
    (at,) = places
    whole = _whole(asked)
    gapped = asked.lines[at].statements[place]
    kind = "number" if question.number else "expression"
    for piece in pieces_of(gapped):
        if piece.kind == kind and piece.statement == gapped:
            found = replace(piece, value=question.key)
            return blank(whole[at], place, found, whole[:at], integral, numbers_named(whole))
    return "a gap of that kind there has more than one filling"


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
    """Whether a line belongs where the question stands, all else that is asked for being what scores."""
    lines = _whole(asked)
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
    """Mark what a student chose or typed elsewhere.

    Args:
        asked: the task.
        integral: of its question.
        given: the option chosen, or what was typed, by response variable.
    """
    typed = any(isinstance(one, TaskTyped) for one in asked.questions)
    if not any(given.values()):
        message = say("There is no answer.") if typed else say("No option was chosen.")
        return Marked(verdict="unreadable", remarks=("no-answer",), message=message)
    known = {name: right for name, right, _ in _judged(asked, integral)}
    right = 0
    remarks: dict[str, None] = {}
    for question in asked.questions:
        answer = given.get(question.identifier, "")
        if isinstance(question, TaskTyped):
            found = blank_of(asked, question, integral)
            if isinstance(found, str):
                return _undecided()
            number = exact_number(answer) if question.number else None
            if number is not None and number == as_fraction(question.key):
                right += 1  # with whatever decimal sign, as the package takes it
                continue
            filling = fill(found, answer)
            if filling.outcome == "unsettled":
                return _undecided()
            right += filling.outcome == "right"
            remarks |= dict.fromkeys(one.identifier for one in filling.remarks)
        elif answer == question.key:
            if not known[question.key]:
                message = say("Option {option} could not be decided.", option=question.key)
                return Marked(verdict="unsettled", message=message)
            right += 1
    every = len(asked.questions)
    full = right == every
    return Marked(
        verdict="correct" if full else "incorrect",
        score=right / every,
        remarks=tuple(remarks),
        proof="each right answer was proved again" if typed else "each right option was proved again",
        message=say("Right.")
        if full
        else say("{right} of {every} answers are right.", right=str(right), every=str(every)),
    )


def _undecided() -> Marked:
    message = say("This answer could not be decided and should be looked at by a person.")
    return Marked(verdict="unsettled", message=message)
