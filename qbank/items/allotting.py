"""The items of a section allotted to its templates: as evenly as can be, so that every test has the same structure.

Where there are fewer items than templates, the templates in their teaching order are cut into as many stretches, and
each stretch gives one: which one is drawn, so that another seed tests another choice of equal breadth.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from qbank.bank.drawing import Stream

__all__ = ["allot"]


def allot(count: int, rooms: Sequence[int], stream: Stream) -> tuple[int, ...] | None:
    """How many items come from each template.

    Args:
        count: items to be allotted.
        rooms: how many each template can give.
        stream: draws where there is a choice.

    Returns:
        A number for each template, or None if together they cannot give as many.

    >>> allot(7, (10, 10, 1), Stream("a"))
    (3, 3, 1)
    >>> allot(4, (1, 2), Stream("a")) is None
    True
    """
    given = [0] * len(rooms)
    while (left := count - sum(given)) > 0:
        open_ = [place for place, room in enumerate(rooms) if given[place] < room]
        if not open_:
            return None
        for place in open_ if left >= len(open_) else _spread(open_, left, stream):
            given[place] += 1
    return tuple(given)


def _spread(places: Sequence[int], count: int, stream: Stream) -> list[int]:
    """One place from each of `count` stretches of nearly equal length."""
    ends = [len(places) * number // count for number in range(count + 1)]
    return [places[start + stream.below(end - start)] for start, end in pairwise(ends)]
