"""Quick proofs: two sides asked of a walk in the quick system, again with finer units; a memory keeps it for more questions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from qbank.maths.exact.quotients import Quotient
from qbank.maths.exact.unreduced import Finer, QuickSide, Unreduced
from qbank.maths.expression import Expression, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled
from qbank.maths.remembering import Remembering

__all__ = ["QuickMemory", "is_shown_equal"]

#: walks over both sides, each with finer units than the one before
MOST_WALKS = 3

W = TypeVar("W", bound=Walk[Quotient])


def is_shown_equal(
    left: QuickSide, right: QuickSide, variable: Symbol, bindings: Mapping[Symbol, Expression]
) -> bool:
    """Whether two sides are shown to be equal wherever both have values; False says nothing.

    Args:
        left: one side, asked of a walk.
        right: the other.
        variable: the letter to differentiate by.
        bindings: letters that stand for expressions.
    """
    found = _afresh(left, right, lambda system: Walk(system, variable, bindings))
    return found is not None and found[0]


class QuickMemory:
    """The quick system kept from one question to the next: what it says holds for all of them.

    Args:
        variable: the letter to differentiate by.
    """

    def __init__(self, variable: Symbol) -> None:
        self._variable = variable
        self._kept: tuple[Unreduced, Remembering[Quotient]] | None = None

    def shows_equal(self, left: QuickSide, right: QuickSide, bindings: Mapping[Symbol, Expression]) -> bool:
        """See `is_shown_equal`."""
        if self._kept is not None and self._kept[1].knows(bindings):
            system, walk = self._kept
            try:
                return system.shows_equal(left, right, walk)
            except (Finer, NotSettled):
                pass  # other units are needed, or there is no room left
        found = _afresh(left, right, lambda system: Remembering(system, self._variable, bindings))
        self._kept = None if found is None else found[1:]
        return found is not None and found[0]


def _afresh(
    left: QuickSide, right: QuickSide, start: Callable[[Unreduced], W]
) -> tuple[bool, Unreduced, W] | None:
    """Whether two sides are shown to be equal by a new walk, again with finer units; None when it cannot be settled."""
    units: dict[int, Any] = {}
    for _ in range(MOST_WALKS):
        system = Unreduced(units)
        walk = start(system)
        try:
            return system.shows_equal(left, right, walk), system, walk
        except Finer as finer:
            units[finer.place] = finer.unit
        except NotSettled:
            return None
    return None
