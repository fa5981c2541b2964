"""Responses as JSON Lines: an object in each line, which comes back with the members that marking adds."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any, TextIO

from qbank.marking.entry import Marked
from qbank.marking.rows import ADDED, NEEDED, Columns, Row, entry_of

__all__ = ["JsonLines", "JsonLinesText"]

#: where a line stands that is not an object
_RAW = "line"
_LONGEST = 1_000_000


class JsonLines:
    """Rows of a JSON Lines file.

    Args:
        source: the text.
        columns: what the members are called.
    """

    def __init__(self, source: TextIO, columns: Columns) -> None:
        self._source = source
        self._columns = columns

    def __iter__(self) -> Iterator[Row]:
        for line in self._source:
            if line.strip():
                yield self._row(line.rstrip("\r\n"))

    def _row(self, line: str) -> Row:
        try:
            value = _value(line)
        except (ValueError, RecursionError) as problem:
            return Row(cells=((_RAW, line),), entry=None, problem=f"the line is not JSON: {problem}")
        if not isinstance(value, dict):
            return Row(cells=((_RAW, line),), entry=None, problem="the line is not a JSON object")
        cells = tuple((name, member) for name, member in value.items() if name not in ADDED)
        missing = [name for name in map(self._columns.name, NEEDED) if name not in value]
        if missing:
            return Row(cells=cells, entry=None, problem=f"it has no member {missing[0]!r}")
        texts = {name: "" if member is None else str(member) for name, member in cells}
        return Row(cells=cells, entry=entry_of(texts, self._columns))


def _value(line: str) -> Any:
    if len(line) > _LONGEST:
        raise ValueError(f"it is longer than {_LONGEST:,} characters")

    def finite(text: str) -> float:
        number = float(text)
        if number - number != 0:
            raise ValueError(f"{text[:20]} is beyond the numbers of JSON")
        return number

    return json.loads(line, parse_constant=finite, parse_float=finite)


class JsonLinesText:
    """Marked rows as JSON Lines."""

    def first(self) -> str:
        """Nothing stands before the rows."""
        return ""

    def kept(self, row: Row) -> dict[str, Any]:
        """The members of a row that are written as they came; a second column of one name gets a number."""
        members: dict[str, Any] = {}
        for name, value in (*row.cells, *(("surplus", cell) for cell in row.surplus)):
            count, unique = 1, name
            while unique in members or unique in ADDED:
                count += 1
                unique = f"{name}.{count}"
            members[unique] = value
        return members

    def line(self, row: Row, mark: Marked) -> str:
        """A marked row."""
        added = {
            "verdict": mark.verdict,
            "score": mark.score,
            "remarks": list(mark.remarks),
            "slip": mark.slip or None,
            "proof": mark.proof,
            "message": mark.message,
        }
        return json.dumps({**self.kept(row), **added}, ensure_ascii=False) + "\n"

    def belongs(self, record: str, row: Row) -> bool:
        """Whether a record of a marked file, without the marks, is a row."""
        members: dict[str, Any] = json.loads(record)
        return {name: value for name, value in members.items() if name not in ADDED} == self.kept(row)

    def message(self, record: str) -> str:
        """The message in a record of a marked file."""
        members: dict[str, str] = json.loads(record)
        return members["message"]

    def records(self, marked: Iterable[str]) -> Iterator[str]:
        """The records of a marked file, without one that was cut off."""
        return (line for line in marked if line.endswith("\n"))
