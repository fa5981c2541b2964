"""Marking a choice of several answers: each right option adds a share of the marks, each wrong one takes one away."""

from __future__ import annotations

from collections.abc import Iterable

from qbank.items.item import Prose, SeveralAnswers
from qbank.marking.mark import Mark
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.notation import plain
from qbank.messages import say

__all__ = ["SeveralMarker"]


class SeveralMarker:
    """Marks sets of options.

    Args:
        response: the options.
        conventions: of the bank, for messages.
    """

    def __init__(self, response: SeveralAnswers, *, conventions: Conventions = DEFAULT) -> None:
        self._response = response
        self._conventions = conventions

    def mark(self, chosen: Iterable[str]) -> Mark:
        """Mark one response.

        Args:
            chosen: the identifiers of the options chosen; those that are no option count nothing.
        """
        letters = frozenset(chosen)
        taken = [option for option in self._response.options if option.identifier in letters]
        if not taken:
            return Mark(outcome="unreadable", score=None, message=say("No option was chosen."))
        score = self._response.score(letters, 1)
        if score == 1:
            return Mark(outcome="correct", score=1.0, message=say("Right."), proof=_PROOF)
        wrong = [option for option in taken if not option.is_key]
        message = (
            " ".join(self._text(option.feedback) for option in wrong)
            if wrong
            else say("Right as far as it goes, but there are more right options.")
        )
        slip = wrong[0].slip if len(wrong) == 1 else None
        return Mark(outcome="incorrect", score=float(score), message=message, slip=slip, proof=_PROOF)

    def _text(self, prose: Prose) -> str:
        return "".join(
            piece if isinstance(piece, str) else plain(piece, self._conventions) for piece in prose
        )


_PROOF = "each right option was proved by differentiation, each wrong one refuted at a point"
