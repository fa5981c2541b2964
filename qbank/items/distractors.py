"""Wrong options: each refuted with a witness, and no two options the same up to a constant."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from qbank.maths.expression import Expression
from qbank.maths.verdict import Refuted, Verdict, Witness

__all__ = ["AUTHOR", "Candidate", "Distractor", "select_distractors"]

#: stands for a slip's identifier where the author wrote the wrong answer
AUTHOR = "author"


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A wrong answer that has been proposed: by a slip, or by the author (then `slip` is `AUTHOR`)."""

    slip: str
    sentence: str
    answer: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class Distractor:
    """A wrong answer with the witness that it is wrong."""

    candidate: Candidate
    witness: Witness


def select_distractors(
    candidates: Iterable[Candidate],
    wanted: int,
    *,
    against_question: Callable[[Expression], Verdict],
    against_option: Callable[[Expression, Expression], Verdict],
) -> tuple[Distractor, ...]:
    """The first candidates that are refuted and differ from each other.

    Args:
        candidates: in order of preference.
        wanted: how many are enough.
        against_question: decides whether an answer is right; only a refuted one may be used.
        against_option: decides whether two answers are the same; only refuted pairs stand side by side.

    Returns:
        At most `wanted` distractors; fewer when there are no more.
    """
    chosen: list[Distractor] = []
    for candidate in candidates:
        if len(chosen) == wanted:
            break
        verdict = against_question(candidate.answer)
        if not isinstance(verdict, Refuted):
            continue
        pairs = (against_option(other.candidate.answer, candidate.answer) for other in chosen)
        if all(isinstance(pair, Refuted) for pair in pairs):
            chosen.append(Distractor(candidate=candidate, witness=verdict.witness))
    return tuple(chosen)
