"""Several answers: which of these are antiderivatives?

The key stands there in the form of the worked solution, and once or twice in other forms; each is proved. The wrong options
are answers of slips. Some of them are written in other forms too, so that a strange look says nothing: the form is proved to
be the slip's own answer up to a constant, and refuted like any wrong option.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from qbank.bank.drawing import Stream
from qbank.items import wording
from qbank.items.distractors import Candidate, Distractor, select_distractors
from qbank.items.equivalents import Rewritten, rewritings, shifted
from qbank.items.options import Option, Prose, SeveralAnswers
from qbank.maths.deciding import decide_equal
from qbank.maths.expression import Expression, Integer, Symbol, sum_of
from qbank.maths.notation import plain
from qbank.maths.tidying import scaled, split_coefficient
from qbank.maths.verdict import Proof, Proved, Refuted, Verdict, Witness

__all__ = ["SeveralQuestion", "several_answers"]

_LETTERS = "ABCDEF"
#: options in all, and the fewest that are wrong: where there are no more slips, there is an option less
_OPTIONS, _FEWEST_WRONG = 6, 3
#: another form may have so many times the parts of the old one, and so many in any case
_LONGER, _SHORT = 3, 20
#: the largest number that is added where there is no better form
_ADDED = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class SeveralQuestion:
    """What is known when the options are chosen.

    Attributes:
        key: an antiderivative.
        proof: that it is one.
        integrand: its derivative.
        variable: the letter.
        candidates: wrong answers in order of preference.
        against_question: decides whether an answer is right.
        against_option: decides whether two answers are the same up to a constant.
    """

    key: Expression
    proof: Proof
    integrand: Expression
    variable: Symbol
    candidates: Iterable[Candidate]
    against_question: Callable[[Expression], Verdict]
    against_option: Callable[[Expression, Expression], Verdict]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    """What becomes an option."""

    answer: Expression
    slip: str | None
    feedback: Prose
    evidence: Proof | Witness


def several_answers(question: SeveralQuestion, stream: Stream) -> SeveralAnswers | None:
    """Choose right and wrong options.

    Args:
        question: the question.
        stream: draws how many options are right, in which forms they stand, and their order.

    Returns:
        The response; None where there are too few wrong answers.
    """
    right = _right_options(question, 2 + stream.below(2), stream)
    texts = {plain(shown.answer) for shown in right}
    wrong = select_distractors(
        (one for one in question.candidates if plain(one.answer) not in texts),
        _OPTIONS - len(right),
        against_question=question.against_question,
        against_option=question.against_option,
    )
    if len(wrong) < _FEWEST_WRONG:
        return None
    texts |= {plain(one.candidate.answer) for one in wrong}
    shown = (*right, *(_wrong_option(question, one, texts, stream) for one in wrong))
    options = (
        Option(
            identifier=letter,
            answer=one.answer,
            slip=one.slip,
            feedback=one.feedback,
            evidence=one.evidence,
        )
        for letter, one in zip(_LETTERS, stream.shuffled(shown), strict=False)
    )
    return SeveralAnswers(options=tuple(options))


def _right_options(question: SeveralQuestion, wanted: int, stream: Stream) -> tuple[_Shown, ...]:
    """The key and other forms of it; adding a number always is one."""
    key = question.key
    told = wording.key_feedback(question.integrand, question.variable)
    shown = [_Shown(answer=key, slip=None, feedback=told, evidence=question.proof)]
    texts = {plain(key)}
    for form in _forms(key, question.variable, stream):
        if len(shown) == wanted:
            break
        text, verdict = plain(form.answer), question.against_question(form.answer)
        if text not in texts and isinstance(verdict, Proved) and not verdict.undefined_at:
            texts.add(text)
            told = wording.equivalent_feedback(form.reason, key, _constant(form, key, question.variable))
            shown.append(_Shown(answer=form.answer, slip=None, feedback=told, evidence=verdict.proof))
    return tuple(shown)


def _wrong_option(question: SeveralQuestion, wrong: Distractor, texts: set[str], stream: Stream) -> _Shown:
    """A wrong answer, as it is or in another form.

    Args:
        question: the question.
        wrong: the answer with its witness.
        texts: of the options so far; that of the form taken is added.
        stream: draws whether and how it is rewritten.
    """
    answer, witness = wrong.candidate.answer, wrong.witness
    for form in _forms(answer, question.variable, stream) if stream.below(2) else ():
        if plain(form.answer) in texts or not isinstance(
            question.against_option(form.answer, answer), Proved
        ):
            continue
        verdict = question.against_question(form.answer)
        if isinstance(verdict, Refuted):
            answer, witness = form.answer, verdict.witness
            texts.add(plain(answer))
            break
    return _Shown(
        answer=answer,
        slip=wrong.candidate.slip,
        feedback=wording.slip_feedback(wrong.candidate.sentence),
        evidence=witness,
    )


def _forms(tree: Expression, variable: Symbol, stream: Stream) -> Iterator[Rewritten]:
    """Other forms in a drawn order, those that look much like the old one after the others."""
    room = max(_LONGER * _size(tree), _SHORT)
    found = tuple(form for form in rewritings(tree, variable) if _size(form.answer) <= room)
    yield from stream.shuffled(tuple(form for form in found if not form.slight))
    yield from stream.shuffled(tuple(form for form in found if form.slight))
    yield shifted(tree, 1 + stream.below(_ADDED))


def _size(tree: Expression) -> int:
    return sum(1 for _ in tree.walk())


def _constant(form: Rewritten, key: Expression, variable: Symbol) -> Expression | None:
    """By which positive constant a form differs from the key; None where that is not proved."""
    if not isinstance(decide_equal(sum_of(form.answer, form.constant), key, variable), Proved):
        return None
    number, rest = split_coefficient(form.constant)
    return Integer(0) if not number else scaled(abs(number), rest)
