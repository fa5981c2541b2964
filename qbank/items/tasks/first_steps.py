"""Choosing the first step: the one that a proved solution begins with, among steps that lead nowhere.

What a wrong step is wrong for is judged by the techniques and by witnesses, see `techniques.other_openings`. A useless
step stands among the options where there is one, and an invalid one as well.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice

from qbank.bank.drawing import Stream
from qbank.items.options import Prose
from qbank.items.prose_text import prose_text
from qbank.items.tasks.asked import TaskOption, TaskQuestion, WorkingTask
from qbank.maths.expression import Expression, Integral, Symbol
from qbank.messages import prose, say
from qbank.techniques.opening import opening_lines, opening_of
from qbank.techniques.other_openings import Opening, invalid_openings, unfit_openings, useless_openings
from qbank.techniques.working import Line, WorkedSolution

__all__ = ["first_step_task", "prompt_first_step"]

_LETTERS = "ABCDE"
#: openings of a kind that are looked for before the options are drawn from them
_USELESS, _OTHERS = 2, 6
#: taken where there is nothing better
_WEAKEST = "differentiated-instead"


def prompt_first_step(integral: Integral) -> Prose:
    """The question."""
    return prose("Which first step turns {integral} into integrals that you know?", integral=integral)


def first_step_task(solution: WorkedSolution, options: int, stream: Stream) -> WorkingTask | str:
    """Choose the options.

    Args:
        solution: the proved solution.
        options: how many there are.
        stream: draws which, and their order.

    Returns:
        The task, or why there is none.
    """
    first, *rest = opening_lines(solution)
    if not rest:
        return "the solution has a single line, so that no step is its first one"
    right = opening_of(solution)
    wrong = _chosen(solution.integrand, solution.variable, right, options - 1, stream)
    if len(wrong) < options - 1:
        return f"only {len(wrong)} of {options - 1} steps that lead nowhere could be found"
    found: tuple[Opening | None, ...] = stream.shuffled((None, *wrong))
    shown = tuple(
        _right_option(f"Q1{letter}", right, first)
        if opening is None
        else _wrong_option(f"Q1{letter}", opening)
        for letter, opening in zip(_LETTERS, found, strict=False)
    )
    return WorkingTask(
        task="first-step",
        lines=(),
        questions=(TaskQuestion(identifier="Q1", line=None, options=shown),),
    )


def _right_option(identifier: str, shown: Prose, first: Line) -> TaskOption:
    told: Prose = (say("Right."),)
    if (first.reason,) != shown:
        told = (say("Right. {reason}", reason=first.reason),)
    return TaskOption(
        identifier=identifier,
        shown=shown,
        right=True,
        judgement="begins",
        slip=None,
        feedback=told,
        evidence=first.proof,
    )


def _wrong_option(identifier: str, opening: Opening) -> TaskOption:
    return TaskOption(
        identifier=identifier,
        shown=opening.shown,
        right=False,
        judgement=opening.judgement,
        slip=opening.name,
        feedback=opening.why,
        evidence=opening.witness,
    )


def _chosen(
    integrand: Expression, variable: Symbol, right: Prose, wanted: int, stream: Stream
) -> tuple[Opening, ...]:
    """One of each kind where there are any, each error once as far as possible, no two shown alike."""
    kinds = (
        tuple(islice(useless_openings(integrand, variable), _USELESS)),
        tuple(islice(invalid_openings(integrand, variable), _OTHERS)),
        tuple(islice(unfit_openings(integrand, variable), _OTHERS)),
    )
    drawn = [stream.shuffled(kind) for kind in kinds]
    first = [kind[0] for kind in drawn[:2] if kind]
    rest = stream.shuffled(tuple(one for kind in drawn for one in kind if one not in first))
    new_names = sorted(_by_name((*first, *rest)), key=lambda one: one.name == _WEAKEST)
    taken: list[Opening] = []
    texts = {prose_text(right)}
    for one in (*new_names, *(one for one in rest if one not in new_names)):
        if len(taken) < wanted and prose_text(one.shown) not in texts:
            texts.add(prose_text(one.shown))
            taken.append(one)
    return tuple(taken)


def _by_name(openings: Iterable[Opening]) -> list[Opening]:
    names: dict[str, Opening] = {}
    for one in openings:
        names.setdefault(one.name, one)
    return list(names.values())
