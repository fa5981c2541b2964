"""Marking a matching: each right pair has its share of the marks."""

from __future__ import annotations

from collections.abc import Mapping

from qbank.items.item import Matching
from qbank.items.prose_text import prose_text
from qbank.marking.mark import Mark
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.messages import say

__all__ = ["MatchingMarker"]


class MatchingMarker:
    """Marks what was matched to the integrals.

    Args:
        response: the integrals and their partners.
        conventions: of the bank, for messages.
    """

    def __init__(self, response: Matching, *, conventions: Conventions = DEFAULT) -> None:
        self._response = response
        self._conventions = conventions

    def mark(self, matched: Mapping[str, str]) -> Mark:
        """Mark one response.

        Args:
            matched: for the identifiers of rows, those of the partners taken; rows may be missing.
        """
        given = {row.identifier: matched.get(row.identifier) for row in self._response.rows}
        if not any(given.values()):
            return Mark(outcome="unreadable", score=None, message=say("Nothing was matched."))
        pairs = {(row, partner) for row, partner in given.items() if partner}
        score = self._response.score(pairs, 1)
        proof = (
            "every pair was proved or refuted by differentiation"
            if self._response.shows == "antiderivative"
            else "the first step of a proved solution"
        )
        if score == 1:
            return Mark(outcome="correct", score=1.0, message=say("Right."), proof=proof)
        for partner in self._response.partners:
            if partner.misled is not None and (partner.misled, partner.identifier) in pairs:
                message = prose_text(partner.feedback, self._conventions)
                slip = partner.slip
                return Mark(outcome="incorrect", score=float(score), message=message, slip=slip, proof=proof)
        message = say("Not all of the pairs are right.")
        return Mark(outcome="incorrect", score=float(score), message=message, proof=proof)
