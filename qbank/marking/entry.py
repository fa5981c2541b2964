"""One response to one question, all of it text: what a row of a class's responses says, and what marking says back.

Both are plain values without mathematics in them, so that they can be sent to other processes, kept in a cache and
compared. The question is understood once for all the responses to it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeAlias

from qbank.bank.policy import ACCEPTING, Policy
from qbank.marking.antiderivative import AntiderivativeMarker
from qbank.marking.definite import DefiniteMarker, NoValueError
from qbank.marking.evaluation import EvaluationMarker
from qbank.marking.mark import REMARKS, Mark, Outcome
from qbank.maths.conventions import Conventions
from qbank.maths.domain import Domain
from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import ReadingError, read
from qbank.messages import in_language, say

__all__ = [
    "Entry",
    "Marked",
    "Marker",
    "QuestionError",
    "for_a_person",
    "mark_entry",
    "marker_of",
    "unusable",
]

Marker: TypeAlias = AntiderivativeMarker | DefiniteMarker | EvaluationMarker

#: questions that a process keeps understood
_QUESTIONS = 256
_FIGURES = range(1, 16)


class QuestionError(ValueError):
    """A question that cannot be understood, or has no answer; the text says why.

    Attributes:
        reading: what was wrong with the mathematics in it, for a pointer to the place; None when that was not it.
    """

    def __init__(self, message: str, reading: ReadingError | None = None) -> None:
        super().__init__(message)
        self.reading = reading


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A response and the question it answers, as they were written.

    Attributes:
        integrand: what was to be integrated.
        response: what the student typed.
        variable: with respect to what; empty for x, which the integrand then has to hold if it holds letters at all.
        lower: the lower limit of a definite integral, else empty.
        upper: the upper limit, likewise.
        given: the value at the lower limit of the antiderivative whose value at the upper one is asked for, else empty.
        domain: the interval of the question, two ends with a comma (or semicolon) between them, or empty.
        figures: significant figures wanted of a decimal value; empty for three.
        decimal: the decimal sign in all of these, a point or a comma.
        policy: what answers score that lack something, and slips.
        language: BCP 47 tag of what is said to the student.
    """

    integrand: str
    response: str
    variable: str = ""
    lower: str = ""
    upper: str = ""
    domain: str = ""
    given: str = ""
    figures: str = ""
    decimal: str = "."
    policy: Policy = ACCEPTING
    language: str = "en"


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked:
    """The mark of an entry in plain words; `qbank.marking.Mark` says what each is.

    Attributes:
        verdict: `correct`, `incorrect`, `unsettled` or `unreadable`.
        score: from 0 to 1, or None when a person must decide.
        remarks: the identifiers of the remarks.
        slip: the identifier of the slip, or empty.
        proof: how it was decided, on one line.
        message: one sentence for the student.
        usable: false when the question itself could not be used; the message then says why.
    """

    verdict: Outcome
    score: float | None = None
    remarks: tuple[str, ...] = ()
    slip: str = ""
    proof: str = ""
    message: str
    usable: bool = True

    def in_language(self, language: str) -> Marked:
        """The mark with its message in a language."""
        return replace(self, message=in_language(self.message, language))


def mark_entry(entry: Entry) -> Marked:
    """Mark one entry. Nothing raises: a question that cannot be used is said in the message.

    >>> mark_entry(Entry(integrand="2x", response="x^2 + C")).verdict
    'correct'
    >>> mark_entry(Entry(integrand="2x", response="9", lower="0")).message
    'The question of this row cannot be used: one limit is missing'
    """
    try:
        marker = marker_of(replace(entry, response="", language=""))
    except QuestionError as problem:
        return unusable(str(problem))
    if not entry.response.strip():
        return _BLANK.in_language(entry.language)
    try:
        return _plain(marker.mark(entry.response).in_language(entry.language))
    except Exception as problem:  # noqa: BLE001 - a fault of ours must not cost a class its marks
        failed = for_a_person(f"marking failed: {type(problem).__name__}: {problem}"[:300])
        return failed.in_language(entry.language)


def for_a_person(proof: str) -> Marked:
    """The mark of an entry that could not be marked here, with the reason as its proof."""
    message = say("This answer could not be decided and should be looked at by a person.")
    return Marked(verdict="unsettled", proof=proof, message=message)


def unusable(reason: str) -> Marked:
    """What is said of a row whose question cannot be used; to whoever made the table, so in English."""
    return Marked(
        verdict="unsettled", message=f"The question of this row cannot be used: {reason}", usable=False
    )


_BLANK = Marked(verdict="unreadable", score=0.0, remarks=("no-answer",), message=REMARKS["no-answer"])


def _plain(mark: Mark) -> Marked:
    return Marked(
        verdict=mark.outcome,
        score=mark.score,
        remarks=tuple(remark.identifier for remark in mark.remarks),
        slip=mark.slip or "",
        proof=mark.proof.replace("\n", " / "),
        message=mark.message,
    )


@lru_cache(maxsize=_QUESTIONS)
def marker_of(question: Entry) -> Marker:
    """The marker of a question: an entry without its response, so that one serves all responses to it.

    Raises:
        QuestionError: the question cannot be used.
    """
    lower, upper, given = question.lower.strip(), question.upper.strip(), question.given.strip()
    letter = _variable(question.variable.strip() or "x")
    conventions = Conventions(decimal="," if question.decimal == "," else ".")

    def understood(text: str, what: str) -> Expression:
        try:
            return read(text, conventions=conventions, variable=letter).tree
        except ReadingError as error:
            raise QuestionError(f"{what}: {error.message}", error) from error

    tree = understood(question.integrand.strip(), "integrand")
    if not question.variable.strip() and tree.symbols() and letter not in tree.symbols():
        # a right answer in t would be marked wrong in x
        raise QuestionError("the integrand has no x; say which letter is its variable")
    if not lower and not upper:
        return AntiderivativeMarker(
            tree,
            letter,
            domain=_domain(question.domain.strip(), understood, question.decimal),
            policy=question.policy,
            conventions=conventions,
        )
    if not (lower and upper):
        raise QuestionError("one limit is missing")
    limits = understood(lower, "lower limit"), understood(upper, "upper limit")
    try:
        figures = _figures(question.figures.strip())
        if given:
            start, end, value = *limits, understood(given, "value given")
            return EvaluationMarker(
                tree,
                letter,
                start,
                value,
                end,
                figures=figures,
                policy=question.policy,
                conventions=conventions,
            )
        return DefiniteMarker(
            tree, letter, *limits, figures=figures, policy=question.policy, conventions=conventions
        )
    except NoValueError as error:
        raise QuestionError(str(error)) from error


def _variable(name: str) -> Symbol:
    try:
        tree = read(name).tree
    except ReadingError as error:
        raise QuestionError(f"variable: {error.message}", error) from error
    if not isinstance(tree, Symbol):
        raise QuestionError(f"variable: {name!r} is not one letter")
    return tree


def _domain(text: str, understood: Callable[[str, str], Expression], decimal: str) -> Domain | None:
    if not text:
        return None
    ends = text.split(";" if decimal == "," or ";" in text else ",")
    if len(ends) != 2:
        raise QuestionError("domain: it takes two ends with a comma between them, such as 0,pi/2")
    lower, upper = (understood(end, "domain") for end in ends)
    return Domain(lower=lower, upper=upper)


def _figures(text: str) -> int:
    if not text:
        return 3
    if not text.isdecimal() or int(text[:4]) not in _FIGURES:
        raise QuestionError(f"figures: {text[:20]!r} is not a number from 1 to {_FIGURES[-1]}")
    return int(text)
