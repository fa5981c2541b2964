"""How long one response may keep a marker busy: all its decisions together, however many there are."""

from __future__ import annotations

from qbank.maths.clock import QUICK, Deadline

__all__ = ["Patience"]

#: seconds of computing for one response in all; a decision that is not reached in time is not reached at all
MOST = 1.6


class Patience:
    """What is left of the time for one response; starts when it is made."""

    def __init__(self) -> None:
        self._deadline = Deadline(MOST)

    def rest(self) -> float:
        """Seconds for the next decision, never below zero.

        >>> 0 < Patience().rest() <= QUICK
        True
        """
        return min(QUICK, max(self._deadline.rest(), 0.0))
