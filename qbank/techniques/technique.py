"""What a technique is: how to work its integrals, and the slips it invites.

A technique lives in a file of its own and ends in one value, `TECHNIQUE`. A slip is one typical student error. It
has two uses: forwards it gives a wrong option, backwards it explains a wrong response. So a slip is a function
from a solved integral to the answer that a student making it would reach, or None where it cannot occur.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from qbank.maths.expression import Expression, Symbol
from qbank.techniques.working import WorkedSolution

__all__ = ["Slip", "SlipAnswer", "Technique"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """One typical error (common practice: from the marking of scripts, not from a published table).

    Attributes:
        identifier: words joined by hyphens, unique in the catalogue.
        sentence: what to tell the student, kind and plain, without mathematics that depends on the item.
        answer: the wrong antiderivative that results (no constant), or None where the slip cannot occur.
    """

    identifier: str
    sentence: str
    answer: Callable[[WorkedSolution], Expression | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipAnswer:
    """The wrong antiderivative that one slip leads to in one integral. Not yet refuted: items do that."""

    slip: str
    sentence: str
    answer: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class Technique:
    """One technique of integration.

    Attributes:
        identifier: words joined by hyphens; also the file's name.
        title: as on a lesson plan.
        work: the worked solution of an integrand of this kind, or None when it is of another kind.
        slips: the errors that it invites, the most typical first.
        first_for: the integrands for which it comes before those that are taught earlier, if any.
    """

    identifier: str
    title: str
    work: Callable[[Expression, Symbol], WorkedSolution | None]
    slips: tuple[Slip, ...]
    first_for: Callable[[Expression, Symbol], bool] | None = None

    def wrong_answers(self, solution: WorkedSolution) -> tuple[SlipAnswer, ...]:
        """What each slip of this technique makes of a solved integral, in the catalogue's order."""
        found = ((slip, slip.answer(solution)) for slip in self.slips)
        return tuple(
            SlipAnswer(slip=slip.identifier, sentence=slip.sentence, answer=answer)
            for slip, answer in found
            if answer is not None
        )
