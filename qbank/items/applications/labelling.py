"""Texts in a picture: a formula in one line of plain characters, and a free place beside what it names."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from qbank.items.applications.figure import Anchor, Label, Place
from qbank.maths.conventions import Conventions
from qbank.maths.equation import Statement
from qbank.maths.notation import plain

__all__ = ["Room", "beside", "readable"]

_RAISED = str.maketrans("0123456789-+nxtk", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺ⁿˣᵗᵏ")
_EXPONENT = re.compile(r"\^(?:\(([^()]*)\)|([0-9]+|[a-z]))")
_ROOT = re.compile(r"sqrt\(([a-z]|[0-9]+)\)")
#: of a letter and of a line of text, in hundredths of a pixel
_LETTER, _LINE = 680, 1300
#: kept free on both sides of a text
_APART = 250
#: what is taken is known by cells of this size
_CELL = 250
_LONGEST = 24


def readable(statement: Statement, conventions: Conventions) -> str | None:
    """A formula in one line; None where it does not fit one.

    >>> from qbank.maths.conventions import DEFAULT
    >>> from qbank.maths.expression import Symbol
    >>> readable(3 * Symbol("x") ** 2 - 1, DEFAULT)
    '3x² − 1'
    >>> readable(Symbol("x") ** Symbol("a"), DEFAULT)
    'x^a'
    """
    text = plain(statement, conventions)
    text = _EXPONENT.sub(lambda found: _raised(found[1] or found[2]) or found[0], text)
    text = _ROOT.sub(r"√\1", text).replace("sqrt(", "√(").replace(" * ", " · ").replace("-", "−")
    text = re.sub(r"\bpi\b|(?<=[0-9])pi\b", "π", text)
    return text if len(text) <= _LONGEST else None


def _raised(exponent: str) -> str:
    """An exponent in raised characters; nothing where some of it has none."""
    raised = exponent.translate(_RAISED)
    return "" if any(letter.isascii() for letter in raised) else raised


class Room:
    """What is taken in a picture already, so that texts can be put where there is room.

    Args:
        window: left, top, right and bottom of the part in which texts may stand.
    """

    def __init__(self, window: tuple[int, int, int, int]) -> None:
        self._window = window
        #: how much is taken in each cell, column by column
        self._taken: dict[int, dict[int, int]] = {}
        self._boxes: list[tuple[int, int, int, int]] = []

    def take(self, places: Iterable[Place]) -> None:
        """Keep texts away from places."""
        for across, down in places:
            column, row = self._taken.setdefault(across // _CELL, {}), down // _CELL
            column[row] = column.get(row, 0) + 1

    def put(self, text: str, wished: Iterable[tuple[Place, Anchor]]) -> Label:
        """A label at the first wished place that is free, or that is least covered."""
        best: tuple[int, Label, tuple[int, int, int, int]] | None = None
        for place, anchor in wished:
            box = _box(text, place, anchor)
            covered = self._covered(box)
            if best is None or covered < best[0]:
                best = (covered, Label(text=text, at=place, anchor=anchor), box)
            if not covered:
                break
        assert best is not None, "there is a place that is wished for"
        self._boxes.append(best[2])
        return best[1]

    def _covered(self, box: tuple[int, int, int, int]) -> int:
        left, top, right, bottom = box
        columns = (self._taken.get(across) for across in range(left // _CELL, right // _CELL + 1))
        first, last = top // _CELL, bottom // _CELL
        inside = sum(
            taken for column in columns if column for row, taken in column.items() if first <= row <= last
        )
        over = sum(not (right < b[0] or b[2] < left or bottom < b[1] or b[3] < top) for b in self._boxes)
        a, b, c, d = self._window
        outside = left < a or top < b or right > c or bottom > d
        return inside + 40 * over + 200 * outside


def _box(text: str, place: Place, anchor: Anchor) -> tuple[int, int, int, int]:
    width = _LETTER * len(text)
    left = place[0] - {"start": 0, "middle": width // 2, "end": width}[anchor]
    return left - _APART, place[1] - _LINE, left + width + _APART, place[1] + _LINE // 4


def beside(places: Iterable[Place]) -> Iterator[tuple[Place, Anchor]]:
    """Wished places around places on a curve: close by first, on each side, then farther away."""
    known = list(places)
    for away in (700, 1400, 2400):
        for x, y in known:
            yield (x + away, y - away // 3), "start"
            yield (x - away, y - away // 3), "end"
            yield (x + away, y + _LINE + away // 3), "start"
            yield (x - away, y + _LINE + away // 3), "end"
            yield (x, y - away), "middle"
            yield (x, y + _LINE + away), "middle"
