"""Matching chosen: integrals of some templates, each with a partner that belongs to it alone.

    own draw + draws of the other templates -> rows, no partner of which fits another row -> one partner more

Antiderivatives are told apart by differentiation, first steps by what all techniques say of the other integrals. A draw
whose partner would fit a row before it is passed over for the next one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from qbank.bank.drawing import Stream
from qbank.items import wording
from qbank.items.distractors import Candidate
from qbank.items.matched import Matching, MatchingRow, Mismatch, Partner
from qbank.maths.expression import Expression, Symbol
from qbank.maths.verdict import Proof, Refuted, Verdict, Witness
from qbank.techniques.first_step import FirstStep, fits
from qbank.techniques.presenting import Row, with_constant

__all__ = ["Solved", "matching"]

_LETTERS = "ABCDE"


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """One integral with all that is known of it.

    Attributes:
        integrand: what is integrated.
        key: its antiderivative.
        proof: that it is one.
        working: how it is found.
        begins: the first step of the working; None where there is none.
        candidates: wrong answers, in order of preference.
        against: decides whether an answer is right for this integral; refuted is only what is right nowhere.
    """

    integrand: Expression
    key: Expression
    proof: Proof
    working: tuple[Row, ...]
    begins: FirstStep | None
    candidates: Callable[[], Iterable[Candidate]]
    against: Callable[[Expression], Verdict]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Extra:
    """What is left over."""

    answer: Expression | FirstStep
    of: int | None = None
    candidate: Candidate | None = None


def matching(
    own: Solved,
    others: Sequence[Iterator[Solved]],
    *,
    variable: Symbol,
    shows: Literal["antiderivative", "first-step"],
    constant: str,
    stream: Stream,
) -> Matching | str:
    """Choose the rows and their partners.

    Args:
        own: the first row.
        others: for each further row, integrals that it may hold; finite, as they are tried one by one.
        variable: the letter of all of them.
        shows: what belongs to an integral.
        constant: the letter of the constant of integration.
        stream: draws the order, and from which row the slip comes.

    Returns:
        The response, or why there is none.
    """
    antiderivatives = shows == "antiderivative"
    if not antiderivatives and own.begins is None:
        return "there is no worked solution whose first step could be asked for"
    rows = [own]
    for source in others:
        found = next((one for one in source if _joins(one, rows, variable, shows)), None)
        if found is None:
            return "no integrals could be found whose partners belong to one of them alone"
        rows.append(found)
    extra = _slip(rows, stream) if antiderivatives else _step_left_over(rows, others, variable)
    if antiderivatives and extra is None:
        return "no slip could be found that is wrong for every integral"
    return _response(rows, extra, shows, constant, stream)


def _joins(
    one: Solved, rows: Iterable[Solved], variable: Symbol, shows: Literal["antiderivative", "first-step"]
) -> bool:
    """Whether an integral can stand beside others: no partner fits two of them."""
    if shows == "antiderivative":
        return all(_witness(one.key, row) and _witness(row.key, one) for row in rows)
    # what is known of the rows is asked first: to know the same of the new one, every technique must work it
    return (
        one.begins is not None
        and not any(fits(one.begins, row.integrand, variable) for row in rows)
        and all(row.begins is not None and not fits(row.begins, one.integrand, variable) for row in rows)
    )


def _witness(answer: Expression, row: Solved) -> Witness | None:
    verdict = row.against(answer)
    return verdict.witness if isinstance(verdict, Refuted) else None


def _slip(rows: Sequence[Solved], stream: Stream) -> _Extra | None:
    """The answer of a slip with one of the integrals, wrong for all of them."""
    for place in stream.shuffled(tuple(range(len(rows)))):
        for candidate in rows[place].candidates():
            if all(_witness(candidate.answer, row) for row in rows):
                return _Extra(answer=candidate.answer, of=place, candidate=candidate)
    return None


def _step_left_over(
    rows: Sequence[Solved], others: Iterable[Iterator[Solved]], variable: Symbol
) -> _Extra | None:
    """The first step of another integral, which fits none of the rows; None where there is no such step."""
    for source in others:
        for one in source:
            if one.begins is not None and not any(fits(one.begins, row.integrand, variable) for row in rows):
                return _Extra(answer=one.begins)
    return None


def _response(
    rows: Sequence[Solved],
    extra: _Extra | None,
    shows: Literal["antiderivative", "first-step"],
    constant: str,
    stream: Stream,
) -> Matching:
    answers: list[Expression | FirstStep | None] = [
        row.key if shows == "antiderivative" else row.begins for row in rows
    ]
    places = list(range(len(answers)))
    if extra is not None:
        answers.append(extra.answer)
        places.append(len(rows))
    letters = {place: letter for letter, place in zip(_LETTERS, stream.shuffled(tuple(places)), strict=False)}
    partners = []
    for place, letter in letters.items():
        answer = answers[place]
        assert answer is not None
        misled = extra if extra is not None and place == len(rows) else None
        partners.append(_partner(letter, answer, misled, constant))
    return Matching(
        shows=shows,
        rows=tuple(
            MatchingRow(
                identifier=f"Q{place + 1}",
                integrand=row.integrand,
                key=row.key,
                proof=row.proof,
                working=row.working,
                partner=letters[place],
            )
            for place, row in enumerate(rows)
        ),
        partners=tuple(partners),
        mismatches=tuple(_mismatches(rows, answers, letters)),
    )


def _partner(letter: str, answer: Expression | FirstStep, extra: _Extra | None, constant: str) -> Partner:
    shown = (
        wording.step_shown(answer) if isinstance(answer, FirstStep) else (with_constant(answer, constant),)
    )
    if extra is None or extra.candidate is None or extra.of is None:
        return Partner(identifier=letter, answer=answer, shown=shown)
    return Partner(
        identifier=letter,
        answer=answer,
        shown=shown,
        slip=extra.candidate.slip,
        feedback=wording.slip_feedback(extra.candidate.sentence),
        misled=f"Q{extra.of + 1}",
    )


def _mismatches(
    rows: Sequence[Solved],
    answers: Sequence[Expression | FirstStep | None],
    letters: dict[int, str],
) -> Iterator[Mismatch]:
    for number, row in enumerate(rows):
        for place, answer in enumerate(answers):
            if place != number and isinstance(answer, Expression):
                witness = _witness(answer, row)
                assert witness is not None, "every other answer was refuted when it was taken"
                yield Mismatch(row=f"Q{number + 1}", partner=letters[place], witness=witness)
