"""The clock of all time budgets: seconds of computing by this thread, so that a busy machine changes no verdict.

What is decided for a bank, once for all its readers, gets far more time than it needs: a hundred times what the slowest
decision about the shipped banks takes, so that a slow machine comes to the same end. That is the budget when none is
given. A response gets little, since a person waits and may look at the few that stay undecided.
"""

from __future__ import annotations

from time import monotonic, thread_time

__all__ = ["PATIENT", "QUICK", "Deadline"]

#: seconds for one decision about a response
QUICK = 1.0
#: seconds for one decision or value that worked solutions and items are built from, and for any other
PATIENT = 10.0

#: seconds on the wall after which computing time is looked at: that costs far more than looking at the wall
_SOON = 0.01


class Deadline:
    """When a budget of computing time is used up; the time starts when this is made.

    A thread cannot compute for longer than passes on the wall, so the wall alone tells that there is time left.

    Args:
        seconds: the budget.
    """

    __slots__ = ("_busy_from", "_seconds", "_start")

    def __init__(self, seconds: float) -> None:
        self._seconds = seconds
        self._start = monotonic()
        self._busy_from: float | None = None

    def rest(self) -> float:
        """Seconds of computing that are left at least; zero or less when there are none.

        >>> 59 < Deadline(60).rest() <= 60, Deadline(0).rest() <= 0
        (True, True)
        """
        passed = monotonic() - self._start
        if self._busy_from is None and passed > _SOON:
            # what was computed before this first look is hardly more than that
            self._busy_from = thread_time() - _SOON
        left = self._seconds - passed
        if left > 0 or self._busy_from is None:
            return left
        return self._seconds - (thread_time() - self._busy_from)

    def passed(self) -> bool:
        """Whether the budget is used up."""
        return self.rest() <= 0
