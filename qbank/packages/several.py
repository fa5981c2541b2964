"""Several answers, read back: every set of options is tried, so that nothing is taken on trust of how they are scored.

Sets of options that students chose elsewhere are marked here as well: each option by differentiation, the share of the
marks as the item says it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from itertools import combinations

from qbank.marking.entry import Marked
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.equation import Statement
from qbank.maths.expression import Expression, Integral
from qbank.maths.verdict import Proved, Refuted
from qbank.messages import say
from qbank.packages.processing import is_share
from qbank.packages.question import Offered, QuestionError, Several

__all__ = ["asked_of_several", "mark_several", "read_several"]

#: more options are not read, as all sets of them are tried
_MOST = 10


def asked_of_several(shown: Iterable[Statement]) -> Integral:
    """The integral behind "which of these are antiderivatives of f?".

    Args:
        shown: the formulas of the question.

    Raises:
        QuestionError: it shows something else than one expression in one letter.
    """
    found = list(shown)
    if len(found) != 1 or not isinstance(found[0], Expression) or len(found[0].symbols()) != 1:
        raise QuestionError("the question shows no integrand in one letter, or more than one formula")
    return Integral(found[0], *found[0].symbols())


def read_several(
    shown: dict[str, Expression],
    keys: tuple[str, ...],
    marks: Fraction,
    score: Callable[[frozenset[str] | None], object],
) -> Several:
    """The options of an item, with what they score.

    Args:
        shown: the expression of each option, by identifier.
        keys: the identifiers that the package declares as right.
        marks: full marks.
        score: what a set of options scores; None stands for no response.

    Raises:
        QuestionError: some set does not score its share, or the scores contradict the keys.
    """
    if not set(keys) <= set(shown) or len(set(keys)) != len(keys):
        raise QuestionError("the options declared as right are not options, or not all different")
    if not 2 <= len(keys) <= len(shown) - len(keys) or len(shown) > _MOST:
        raise QuestionError("several answers are at least two, and no more than the wrong ones")
    if score(None) != 0:
        raise QuestionError("no answer at all does not score 0")
    for size in range(1, len(shown) + 1):
        for names in combinations(shown, size):
            right = sum(1 for name in names if name in keys)
            wanted = marks * max(0, 2 * right - size) / len(keys)
            if not is_share(score(frozenset(names)), wanted):
                raise QuestionError(f"the options {', '.join(names)} do not score their shares")
    if score(frozenset(keys)) != marks:
        raise QuestionError("the right options do not score full marks")
    return Several(
        offered=tuple(
            Offered(identifier=name, answer=answer, right=name in keys) for name, answer in shown.items()
        )
    )


def mark_several(answers: Several, integral: Integral, chosen: Iterable[str]) -> Marked:
    """Mark the options that were chosen.

    Args:
        answers: all options of the item.
        integral: what is asked.
        chosen: the identifiers of those that were chosen; what is no option is told, and counts nothing.
    """
    names = frozenset(chosen)
    unknown = names - {one.identifier for one in answers.offered}
    if unknown:
        return Marked(
            verdict="unreadable",
            message=say("The item has no option {option}.", option=repr(min(unknown)[:40])),
        )
    if not names:
        return Marked(verdict="unreadable", remarks=("no-answer",), message=say("No option was chosen."))
    taken = [one for one in answers.offered if one.identifier in names]
    right = 0
    for one in taken:
        verdict = decide_antiderivative(one.answer, integral.integrand, integral.variable)
        if not isinstance(verdict, Proved | Refuted):
            said = say("Option {option} could not be decided.", option=one.identifier)
            return Marked(verdict="unsettled", message=said)
        right += isinstance(verdict, Proved)
    every = sum(one.right for one in answers.offered)
    score = Fraction(max(0, 2 * right - len(taken)), every)
    full = right == len(taken) == every
    return Marked(
        verdict="correct" if full else "incorrect",
        score=float(score),
        proof="each option chosen was proved or refuted by differentiation",
        message=say("Right.")
        if full
        else say(
            "{right} of the {every} right options and {wrong} wrong ones were chosen.",
            right=str(right),
            every=str(every),
            wrong=str(len(taken) - right),
        ),
    )
