"""The marks of a question spread over the lines of its worked solution, as a marking guide prints them."""

from __future__ import annotations

from collections.abc import Sequence

from qbank.techniques.presenting import Row

__all__ = ["line_marks"]


def line_marks(working: Sequence[Row], marks: int) -> tuple[int, ...]:
    """How many marks each row of a working earns; the rows that say why share them (common practice).

    The last line has one, and the others lie as far apart as they can. Where there are more marks than lines, the last
    line has the rest.

    Args:
        working: the rows, from the integral to the answer.
        marks: of the whole question.

    >>> row = Row(kind="step", statements=(), reason="Because.")
    >>> line_marks([row] * 5, 3), line_marks([row] * 2, 3), line_marks([], 3)
    ((1, 0, 1, 0, 1), (1, 2), ())
    """
    earning = [place for place, row in enumerate(working) if row.reason]
    shared = [0] * len(working)
    if not earning:
        return tuple(shared)
    given = min(marks, len(earning))
    for number in range(given):
        gap = (len(earning) - 1) * (given - 1 - number)
        shared[earning[len(earning) - 1 - (gap // (given - 1) if given > 1 else 0)]] += 1
    shared[earning[-1]] += marks - given
    return tuple(shared)
