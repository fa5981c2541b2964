"""Marking a table of responses: each row comes back in its place with verdict, score, remarks, slip, proof and message.

    rows --entries--> marks --text--> the marked table, piece by piece

Rows are streamed; one that cannot be marked says why and loses nothing. A marked table that was left unfinished is taken
up where it ends, after every row of it was found to be a row of the responses.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterable, Iterator
from typing import Protocol

from qbank.marking.entry import Entry, Marked
from qbank.marking.rows import Row, TableError
from qbank.marking.running import Workers, mark_entries

__all__ = ["MarkedTable", "RowsText"]

#: rows written at a time
_PIECE = 100
_UNUSABLE = "The question of this row cannot be used"


class RowsText(Protocol):
    """A format of marked tables."""

    def first(self) -> str:
        """What stands before the rows."""

    def line(self, row: Row, mark: Marked) -> str:
        """A marked row, as one record."""

    def records(self, marked: Iterable[str]) -> Iterator[str]:
        """The whole records of a marked table, from its lines."""

    def belongs(self, record: str, row: Row) -> bool:
        """Whether a record is that row with its mark."""

    def message(self, record: str) -> str:
        """The message of a record."""


class MarkedTable:
    """A table being marked: iterate for the bytes of the marked table, in pieces.

    Args:
        rows: the responses.
        text: how marked rows are written.
        workers: where to mark; None for here.

    Attributes:
        rows: how many rows have been marked, those taken over included.
        taken_over: how many of them were found marked already.
        unusable: how many had a question that could not be used.
        verdicts: how many of those marked now had which verdict.
    """

    def __init__(self, rows: Iterable[Row], text: RowsText, *, workers: Workers | None = None) -> None:
        self._rows = iter(rows)
        self._text = text
        self._workers = workers
        self._begun = False
        self.rows = 0
        self.taken_over = 0
        self.unusable = 0
        self.verdicts: Counter[str] = Counter()

    def take_over(self, marked: Iterable[str]) -> int:
        """Go on where an unfinished marked table ends.

        Args:
            marked: its lines, line breaks unchanged.

        Returns:
            How many bytes of it are kept; what is written from now on stands behind them.

        Raises:
            TableError: it is not of these responses.
        """
        records = self._text.records(marked)
        kept, first = 0, self._text.first()
        if first:
            found = next(records, None)
            if found is None:
                return 0
            if found != first:
                raise TableError("the unfinished table has other columns")
            kept = len(_bytes(first))
        for record in records:
            row = next(self._rows, None)
            if row is None or not self._text.belongs(record, row):
                raise TableError(f"row {self.rows + 1} of the unfinished table is not that of the responses")
            self.rows += 1
            self.unusable += self._text.message(record).startswith(_UNUSABLE)
            kept += len(_bytes(record))
        self.taken_over = self.rows
        self._begun = kept > 0
        return kept

    def __iter__(self) -> Iterator[bytes]:
        piece = [] if self._begun else [self._text.first()]
        for row, mark in self._marked():
            self.rows += 1
            self.unusable += not mark.usable
            self.verdicts[mark.verdict] += 1
            piece.append(self._text.line(row, mark))
            if len(piece) >= _PIECE:
                yield _bytes("".join(piece))
                piece = []
        yield _bytes("".join(piece))

    def _marked(self) -> Iterator[tuple[Row, Marked]]:
        waiting: deque[Row] = deque()

        def entries() -> Iterator[Entry]:
            for row in self._rows:
                waiting.append(row)
                if row.entry is not None:
                    yield row.entry

        for mark in mark_entries(entries(), workers=self._workers):
            while (row := waiting.popleft()).entry is None:
                yield row, row.unmarked()
            yield row, mark
        for row in waiting:
            yield row, row.unmarked()


def _bytes(text: str) -> bytes:
    # half of a surrogate pair, which JSON may hold, goes back into its escape
    return text.encode("utf-8", "backslashreplace")
