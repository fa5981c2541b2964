"""Wrong options: each refuted with a witness, and no two options the same up to a constant."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from qbank.maths.expression import Expression, Integer, Root
from qbank.maths.verdict import Refuted, Verdict, Witness

__all__ = ["AUTHOR", "Candidate", "Distractor", "Proposal", "is_plain", "plain_first", "select_distractors"]

#: stands for a slip's identifier where the author wrote the wrong answer
AUTHOR = "author"


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A wrong answer that has been proposed: by a slip, or by the author (then `slip` is `AUTHOR`)."""

    slip: str
    sentence: str
    answer: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """A slip that has not been run to its answer yet: most items need few of the slips that there are.

    Attributes:
        slip: its identifier.
        sentence: what to tell the student.
        propose: runs it; None where it cannot occur.
    """

    slip: str
    sentence: str
    propose: Callable[[], Expression | None]

    def candidate(self) -> Candidate | None:
        """The slip with its answer."""
        answer = self.propose()
        return None if answer is None else Candidate(slip=self.slip, sentence=self.sentence, answer=answer)


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


#: numbers up to this size are never clumsy in an option; larger ones when they are so many times those of the key
_SMALL, _TIMES = 60, 4
#: an option may have so many times the parts of the key, and so many in any case
_LONGER, _SHORT = 2, 8


def plain_first(candidates: Iterable[Candidate], key: Expression) -> Iterator[Candidate]:
    """The candidates in their order, those that stand out beside the key kept for the end.

    An option with a root that the key has not, with far larger numbers or far longer, is one that nobody takes.

    Args:
        candidates: in order of preference; read one by one as they are wanted.
        key: the right answer.
    """
    kept: list[Candidate] = []
    for candidate in candidates:
        if is_plain(candidate.answer, key):
            yield candidate
        else:
            kept.append(candidate)
    yield from kept


def is_plain(answer: Expression, key: Expression) -> bool:
    """Whether an answer looks no clumsier than the key."""
    size, largest, rooted = _shape(answer)
    key_size, key_largest, key_rooted = _shape(key)
    return (
        size <= max(_LONGER * key_size, _SHORT)
        and largest <= max(_TIMES * key_largest, _SMALL)
        and rooted <= key_rooted
    )


def _shape(tree: Expression) -> tuple[int, int, int]:
    """How many parts a tree has, its largest whole number, and how many roots of numbers."""
    size = largest = rooted = 0
    for node in tree.walk():
        size += 1
        if isinstance(node, Integer):
            largest = max(largest, abs(node.value))
        elif isinstance(node, Root) and not node.symbols():
            rooted += 1
    return size, largest, rooted
