"""A matching, read back and proved again.

Every single pair is scored by itself, and the keyed pairs together. Antiderivatives are proved and refuted by
differentiation. A first step is held against the techniques: some solution of its integral has to begin with it, and it may
be a step towards none of the other integrals.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from itertools import product

from qbank.marking.entry import Marked
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Expression, Integral
from qbank.maths.verdict import Proved, Refuted
from qbank.messages import say
from qbank.packages.finding import Finding
from qbank.packages.processing import is_share
from qbank.packages.question import Matched, MatchedRow, QuestionError
from qbank.techniques.first_step import FirstStep, fits, is_step_of

__all__ = ["mark_matched", "partner_shown", "prove_matched", "read_matched"]

_MOST = 10


def partner_shown(formulas: Sequence[Statement], text: str) -> Expression | FirstStep:
    """What a choice of the second set shows: an antiderivative, a substitution, or a sentence.

    Raises:
        QuestionError: it shows anything else.
    """
    match formulas:
        case [Equation() as definition]:
            return FirstStep(definition, "")
        case [Expression() as answer]:
            return answer
        case []:
            return FirstStep(None, " ".join(text.split()))
    raise QuestionError("what is to be matched shows more than one formula")


def read_matched(
    integrals: Sequence[tuple[str, Sequence[Statement]]],
    partners: Sequence[tuple[str, Expression | FirstStep]],
    keys: Sequence[str],
    marks: Fraction,
    score: Callable[[frozenset[str] | None], object],
) -> Matched:
    """The integrals with what is scored as belonging to them.

    Args:
        integrals: the first set, by identifier, with the formulas that are shown.
        partners: the second set.
        keys: the pairs declared as right, `Q1 B`.
        marks: full marks.
        score: what some pairs score; None stands for no response.

    Raises:
        QuestionError: it is of another make, or the scores contradict the declared pairs.
    """
    names = [name for name, _ in (*integrals, *partners)]
    if len(set(names)) != len(names) or len(names) > 2 * _MOST:
        raise QuestionError("the choices have not all identifiers of their own, or are too many")
    if len({isinstance(partner, FirstStep) for _, partner in partners}) != 1:
        raise QuestionError("antiderivatives and first steps stand side by side, or nothing at all")
    pairs = dict(key.split(" ", 1) for key in keys if " " in key)
    known = [name for name, _ in partners]
    if len(pairs) != len(keys) or list(pairs) != [name for name, _ in integrals]:
        raise QuestionError("not every integral has exactly one partner")
    if len(set(pairs.values())) != len(pairs) or not set(pairs.values()) <= set(known):
        raise QuestionError("two integrals have the same partner, or one that is not there")
    share = marks / len(pairs)
    for row, partner in product(pairs, known):
        wanted = share if pairs[row] == partner else Fraction(0)
        if not is_share(score(frozenset({f"{row} {partner}"})), wanted):
            raise QuestionError(f"the pair {row} {partner} does not score its share")
    if score(frozenset(keys)) != marks or score(None) != 0:
        raise QuestionError("the right pairs do not score full marks, or none at all do not score 0")
    rows = []
    for name, shown in integrals:
        if len(shown) != 1 or not isinstance(shown[0], Integral) or shown[0].lower is not None:
            raise QuestionError(f"{name} shows no integral without limits")
        rows.append(MatchedRow(identifier=name, integral=shown[0], partner=pairs[name]))
    return Matched(rows=tuple(rows), partners=tuple(partners))


def prove_matched(answers: Matched) -> Finding:
    """Prove each right pair, and refute every other one."""
    proved = refuted = 0
    problems: list[str] = []
    for row in answers.rows:
        for name, partner in answers.partners:
            wanted = name == row.partner
            belongs = _belongs(partner, row.integral, right=wanted)
            if belongs is None:
                problems.append(f"{row.identifier} with {name} could be neither proved nor refuted")
            elif belongs and wanted:
                proved += 1
            elif not belongs and not wanted:
                refuted += 1
            elif wanted:
                problems.append(f"{name} does not belong to {row.identifier}, but scores")
            else:
                problems.append(f"{name} belongs to {row.identifier} too, but scores nothing")
    return Finding(proved=proved, refuted=refuted, problems=tuple(problems))


def _belongs(partner: Expression | FirstStep, integral: Integral, *, right: bool) -> bool | None:
    """Whether something belongs to an integral; a first step that is not wanted must not fit in any way."""
    if isinstance(partner, FirstStep):
        asked = is_step_of if right else fits
        return asked(partner, integral.integrand, integral.variable)
    verdict = decide_antiderivative(partner, integral.integrand, integral.variable)
    return True if isinstance(verdict, Proved) else False if isinstance(verdict, Refuted) else None


def mark_matched(answers: Matched, given: Iterable[str]) -> Marked:
    """Mark the pairs that a student made elsewhere.

    Args:
        answers: the item.
        given: the pairs, `Q1 B`.
    """
    pairs = set(given)
    if not pairs:
        return Marked(verdict="unreadable", remarks=("no-answer",), message=say("Nothing was matched."))
    right = 0
    partners = dict(answers.partners)
    for row in answers.rows:
        if f"{row.identifier} {row.partner}" in pairs:
            if not _belongs(partners[row.partner], row.integral, right=True):
                return Marked(
                    verdict="unsettled",
                    message=say("The pair of {row} could not be proved.", row=row.identifier),
                )
            right += 1
    every = len(answers.rows)
    full = right == every
    return Marked(
        verdict="correct" if full else "incorrect",
        score=right / every,
        proof="each right pair was proved again",
        message=say("Right.")
        if full
        else say("{right} of {every} pairs are right.", right=str(right), every=str(every)),
    )
