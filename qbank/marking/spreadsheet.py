"""Responses in a CSV file, as spreadsheets write them, and the marked file as spreadsheets read it.

The sign between the cells is the one that makes the first line name the columns that are needed: a comma, a semicolon
(where the comma is the decimal sign), a tabulator or a bar.

A cell that a spreadsheet would take for a formula is written with an apostrophe before it, which a spreadsheet takes for
"this is text" (common practice); the same apostrophe is taken off a question or an answer when it is read, so that a
marked table can be marked again.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterable, Iterator
from io import StringIO
from typing import TextIO

from qbank.marking.entry import Marked
from qbank.marking.rows import ADDED, Columns, Row, TableError, added_cells, entry_of

__all__ = ["DELIMITERS", "Spreadsheet", "SpreadsheetText", "as_typed"]

#: the signs between cells that are looked for
DELIMITERS = (",", ";", "\t", "|")
#: what a cell must not begin with, for a spreadsheet to leave it alone
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


class Spreadsheet:
    """Rows of a CSV file.

    Args:
        source: the text, opened with `newline=""`; its first line names the columns.
        columns: what they are called.
        delimiter: the sign between cells; None to find it in the first line.

    Attributes:
        delimiter: the sign between cells.
        names: the columns that are kept; those that marking adds are made anew.

    Raises:
        TableError: the first line does not name the columns.
    """

    def __init__(self, source: TextIO, columns: Columns, *, delimiter: str | None = None) -> None:
        # whole essays come as answers; a cell is bounded by what the reader of mathematics takes, not here
        csv.field_size_limit(sys.maxsize)
        first, problem = _first_line(source), ""
        for delimiter_tried in (delimiter,) if delimiter else DELIMITERS:
            header = next(csv.reader([*first], delimiter=delimiter_tried), [])
            problem_here = columns.missing(tuple(header))
            if not problem_here:
                break
            problem = problem or problem_here
        else:
            raise TableError(f"the first line must name the columns; {problem}")
        self.delimiter = delimiter_tried
        self._columns = columns
        self._width = len(header)
        self._kept = tuple(at for at, name in enumerate(header) if name not in ADDED)
        self.names = tuple(header[at] for at in self._kept)
        self._reader = csv.reader(source, delimiter=delimiter_tried)
        self._lines = len(first)

    def __iter__(self) -> Iterator[Row]:
        try:
            for cells in self._reader:
                if cells:
                    yield self._row(cells)
        except csv.Error as problem:
            raise TableError(f"line {self._lines + self._reader.line_num}: {problem}") from problem

    def _row(self, cells: list[str]) -> Row:
        padded = cells + [""] * (self._width - len(cells))
        kept = tuple(zip(self.names, (padded[at] for at in self._kept), strict=True))
        # of columns with the same name the first is meant
        by_name = {name: as_typed(cell) for name, cell in reversed(kept)}
        return Row(cells=kept, surplus=tuple(padded[self._width :]), entry=entry_of(by_name, self._columns))


def _first_line(source: TextIO) -> list[str]:
    """The first record, which may go over several lines where a name holds a line break."""
    lines: list[str] = []
    for line in source:
        lines.append(line)
        if "".join(lines).count('"') % 2 == 0 and line.strip():
            break
    return [line for line in lines if line.strip()]


class SpreadsheetText:
    """Marked rows as the lines of a CSV file.

    Args:
        names: the columns that are kept.
        delimiter: the sign between cells.
    """

    def __init__(self, names: Iterable[str], delimiter: str = ",") -> None:
        self._names = tuple(names)
        self._delimiter = delimiter
        self._buffer = StringIO()
        self._writer = csv.writer(self._buffer, delimiter=delimiter, lineterminator="\n")

    def first(self) -> str:
        """The line with the names."""
        return self._line([*map(_harmless, self._names), *ADDED])

    def kept(self, row: Row) -> list[str]:
        """The cells of a row that are written as they came."""
        return [_harmless(str(cell)) for _, cell in row.cells]

    def line(self, row: Row, mark: Marked) -> str:
        """A marked row; what had no column stands behind."""
        marks = added_cells(mark).values()
        return self._line([*self.kept(row), *map(_harmless, (*marks, *row.surplus))])

    def belongs(self, record: str, row: Row) -> bool:
        """Whether a record of a marked file, without the marks, is a row."""
        cells = self._cells(record)
        width = len(self._names)
        surplus = cells[width + len(ADDED) :]
        return cells[:width] == self.kept(row) and surplus == [_harmless(cell) for cell in row.surplus]

    def message(self, record: str) -> str:
        """The message in a record of a marked file."""
        cells = self._cells(record)
        return cells[len(self._names) + len(ADDED) - 1]

    def records(self, marked: Iterable[str]) -> Iterator[str]:
        """The records of a marked file, line breaks and all, without one that was cut off."""
        record = ""
        for line in marked:
            record += line
            # we write every quotation mark within a cell twice
            if record.endswith("\n") and record.count('"') % 2 == 0:
                yield record
                record = ""

    def _cells(self, record: str) -> list[str]:
        return next(csv.reader(StringIO(record, newline=""), delimiter=self._delimiter))

    def _line(self, cells: list[str]) -> str:
        self._writer.writerow(cells)
        text = self._buffer.getvalue()
        self._buffer.seek(0)
        self._buffer.truncate()
        return text


def _harmless(cell: str) -> str:
    return "'" + cell if cell.startswith(_FORMULA) and not _is_number(cell) else cell


def as_typed(cell: str) -> str:
    """A cell without the apostrophe that keeps a spreadsheet from running it.

    >>> as_typed("'-x"), as_typed("-x"), as_typed("f'")
    ('-x', '-x', "f'")
    """
    return cell[1:] if cell[:1] == "'" and cell[1:2] in _FORMULA else cell


def _is_number(cell: str) -> bool:
    """Whether it is a number, sign and all, which no spreadsheet can take amiss.

    >>> _is_number("-0.5"), _is_number("+3"), _is_number("-2+cmd"), _is_number("-")
    (True, True, False, False)
    """
    digits = cell[1:].replace(".", "", 1).replace(",", "", 1)
    return cell[:1] in "+-" and digits.isascii() and digits.isdigit()
