"""Where a text has two readings: which one is taken, and how to take the other.

The tokens and the grammar ask `usual` at each such place. It answers yes, with a remark, unless the place is among
those to be read the other way; reading again with some places turned gives the alternatives.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from qbank.maths.reading.remarks import Remark

__all__ = ["Choices", "Place", "turns"]

#: at most this many alternatives of one text
_ALTERNATIVES = 7


class Place(NamedTuple):
    """One place with two readings: what kind of ambiguity, and where in the source."""

    kind: str
    start: int


class Choices:
    """The choices made while one text is read once; filled as the reading goes on."""

    def __init__(self, turned: frozenset[Place] = frozenset()) -> None:
        self.turned = turned
        self.asked: list[Place] = []
        self.remarks: list[Remark] = []

    def usual(self, kind: str, start: int, end: int, sentence: str) -> bool:
        """Whether to take the usual reading at this place; then it is remarked on."""
        place = Place(kind, start)
        if place in self.turned:
            return False
        self.asked.append(place)
        self.remark("ambiguous-notation", sentence, start, end)
        return True

    def remark(self, identifier: str, sentence: str, start: int, end: int) -> None:
        """Note a convention that was followed."""
        self.remarks.append(Remark(identifier, sentence, start, end))


def turns(asked: list[Place]) -> Iterator[frozenset[Place]]:
    """Which places to turn for each alternative, the likeliest first.

    People are consistent: all places of one kind are turned together, first one kind, then two. After that single
    places are turned.

    >>> a, b = Place("quotient", 0), Place("power", 9)
    >>> [sorted(place.kind for place in turn) for turn in turns([a, b])]
    [['quotient'], ['power'], ['power', 'quotient']]
    """
    kinds = list(dict.fromkeys(place.kind for place in asked))
    groups = [frozenset(place for place in asked if place.kind == kind) for kind in kinds]
    found: dict[frozenset[Place], None] = {}
    for size in (1, 2):
        for chosen in combinations(groups, size):
            found[frozenset().union(*chosen)] = None
    for place in asked:
        found[frozenset((place,))] = None
    yield from list(found)[:_ALTERNATIVES]
