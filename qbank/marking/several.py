"""Marking a choice of several answers: each right option adds a share of the marks, each wrong one takes one away."""

from __future__ import annotations

from collections.abc import Iterable

from qbank.items.item import SeveralAnswers
from qbank.marking.chosen import NOTHING_CHOSEN, mark_of_chosen
from qbank.marking.mark import Mark
from qbank.maths.conventions import DEFAULT, Conventions
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
            return NOTHING_CHOSEN
        return mark_of_chosen(
            [option for option in taken if not option.is_key],
            self._response.score(letters, 1),
            self._conventions,
            proof=_PROOF,
            unfinished=say("Right as far as it goes, but there are more right options."),
        )


_PROOF = "each right option was proved by differentiation, each wrong one refuted at a point"
