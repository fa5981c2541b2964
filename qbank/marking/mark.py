"""What marking says about one response."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, Literal

from qbank.maths.verdict import Witness
from qbank.messages import in_language, say

__all__ = ["REMARKS", "Mark", "Outcome", "Remark"]

Outcome = Literal["correct", "incorrect", "unsettled", "unreadable"]

#: remarks that marking itself makes, and what each means; the reader has a table of its own
REMARKS: dict[str, str] = {
    "missing-constant": say("The answer is right up to the constant of integration, which is missing."),
    "missing-modulus": say("The logarithm needs modulus signs to hold on the whole domain."),
    "smaller-domain": say("The answer has no real value on a part of the domain of the question."),
    "ambiguous-notation": say(
        "The response can be read in two ways; in the one shown it is right. Brackets make it clear."
    ),
    "not-simplified": say("The answer is right, and can be simplified further."),
    "exact-value-wanted": say("This decimal is close to the value; the exact value was asked for."),
    "other-variable": say("The answer is written in another letter than the question."),
    "decimal-value": say("The decimal was compared with the value to the significant figures asked for."),
    "too-few-figures": say("The decimal has fewer significant figures than were asked for."),
    "positive-letters": say(
        "The answer is right where the letters in the question stand for positive numbers."
    ),
    "other-branch": say("The answer is right with the other usual branch of the inverse secant or cosecant."),
    "no-answer": say("There is no answer."),
    "unit": say("The unit of the answer was not marked."),
    "constant-in-value": say("The value of a definite integral has no constant of integration."),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """Something to say about a response that does not decide it.

    Attributes:
        identifier: a key of `REMARKS`, or of the reader's table.
        sentence: for the student.
    """

    identifier: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """The mark of one response.

    Attributes:
        outcome: `correct`, `incorrect`, `unsettled` (for a person to look at) or `unreadable`.
        score: from 0 to 1, after the policy; None when a person must decide.
        message: one sentence for the student.
        remarks: what else is worth saying.
        slip: identifier of the slip that the response is proved to be, or None.
        proof: how the verdict was reached.
        witness: for an incorrect response, a point where the derivative is not the integrand.
        read_as: how the response was understood, in LaTeX; empty when it could not be read.
    """

    outcome: Outcome
    score: float | None
    message: str
    remarks: tuple[Remark, ...] = ()
    slip: str | None = None
    proof: str = ""
    witness: Witness | None = None
    read_as: str = ""

    def in_language(self, language: str) -> Mark:
        """The mark with what it says to the student in a language.

        Args:
            language: BCP 47 tag.

        >>> Mark(outcome="correct", score=1.0, message=say("Right.")).in_language("de").message
        'Richtig.'
        """
        remarks = tuple(replace(one, sentence=in_language(one.sentence, language)) for one in self.remarks)
        return replace(self, message=in_language(self.message, language), remarks=remarks)

    def as_json(self) -> dict[str, Any]:
        """The mark as plain values, in a fixed order, ready for JSON."""
        return {
            "verdict": self.outcome,
            "score": self.score,
            "message": self.message,
            "remarks": [{"identifier": r.identifier, "sentence": r.sentence} for r in self.remarks],
            "slip": self.slip,
            "proof": self.proof,
            "witness": None if self.witness is None else witness_as_json(self.witness),
            "read_as": self.read_as,
        }


def witness_as_json(witness: Witness) -> dict[str, Any]:
    """A witness as plain values."""
    return {
        "point": str(witness.point),
        "response": witness.left,
        "wanted": witness.right,
        "others": {name: str(value) for name, value in witness.others},
    }
