"""The options of a choice: the key among slips, of which no two are the same answer."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from qbank.bank.drawing import Stream
from qbank.bank.model import Bank, Template
from qbank.items import wording
from qbank.items.distractors import Candidate, Proposal, is_plain, plain_first, select_distractors
from qbank.items.item import Choice, Option, Prose, SeveralAnswers
from qbank.items.pairing import apart, paired
from qbank.items.question import Question, answered
from qbank.items.refusal import DrawRefused
from qbank.items.several import SeveralQuestion, several_answers
from qbank.items.values import double_values, placed, way_doubles
from qbank.maths.expression import Expression
from qbank.techniques.presenting import with_constant

__all__ = ["choice", "several"]

_LETTERS = "ABCDE"
#: in one item of so many, no two slips are put together
_PAIRED_OF = 5


def choice(bank: Bank, template: Template, question: Question, stream: Stream) -> Choice:
    """A single choice: the key and wrong answers, in a drawn order.

    Raises:
        DrawRefused: too few different wrong answers.
    """
    definite = question.limits is not None
    wanted = template.options - 1
    chosen = select_distractors(
        _options_in_turn(question, stream, wanted),
        wanted,
        against_question=question.against,
        against_option=question.apart,
    )
    if len(chosen) < wanted:
        raise DrawRefused(f"only {len(chosen)} of {wanted} different wrong answers could be found")
    right = (
        wording.value_feedback() if definite else wording.key_feedback(question.integrand, question.variable)
    )
    parts: list[tuple[Expression, str | None, Prose, object]] = [(question.key, None, right, question.proof)]
    parts.extend(
        (d.candidate.answer, d.candidate.slip, wording.slip_feedback(d.candidate.sentence), d.witness)
        for d in chosen
    )
    constant = bank.conventions.constant
    options = (
        Option(
            identifier=letter,
            answer=answer if definite else with_constant(answer, constant),
            slip=slip,
            feedback=feedback,
            evidence=evidence,  # type: ignore[arg-type]
        )
        for letter, (answer, slip, feedback, evidence) in zip(
            _LETTERS, stream.shuffled(tuple(parts)), strict=False
        )
    )
    return Choice(options=tuple(options))


def several(template: Template, question: Question, stream: Stream) -> SeveralAnswers:
    """A choice of all options that are right.

    Raises:
        DrawRefused: too few different wrong answers.
    """
    wanted = SeveralQuestion(
        key=question.key,
        proof=question.proof,
        integrand=question.integrand,
        variable=question.variable,
        candidates=_options_in_turn(question, stream, template.options - 1),
        against_question=question.against,
        against_option=question.apart,
    )
    found = several_answers(wanted, stream)
    if found is None:
        raise DrawRefused("too few different wrong answers could be found")
    return found


def _options_in_turn(question: Question, stream: Stream, wanted: int) -> Iterator[Candidate]:
    """The author's own wrong answers first, then slips; in most items two of them apart and together.

    A value is no sum of terms that slips change one by one; there the slips depend on a place drawn for the key.
    """
    singles = plain_first(_in_turn(question.proposals, stream), question.key)
    if question.applied is not None or question.limits is not None:
        twice = (one for one in _doubles(question, stream) if is_plain(one.answer, question.key))
        return placed(singles, twice, question.key, wanted, stream)
    arranged = apart if stream.below(_PAIRED_OF) == 0 else paired
    return chain(question.own, arranged(singles, question.key))


def _doubles(question: Question, stream: Stream) -> Iterator[Candidate]:
    """Values with two slips in them."""
    if question.applied is not None:
        return question.applied.doubles(stream)
    if question.worked is not None:
        return double_values(question.worked, stream)
    return iter(()) if question.by_way is None else way_doubles(question.by_way, stream)


def _in_turn(proposals: tuple[Proposal, ...], stream: Stream) -> Iterator[Candidate]:
    """The most typical slip that occurs first, the others in a drawn order: clones vary."""
    left = iter(proposals)
    first = next(answered(left), None)
    if first is not None:
        yield first
        yield from answered(stream.shuffled(tuple(left)))
