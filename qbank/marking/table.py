"""Marking a CSV file: one row in, the same row out with verdict, score, remarks, slip, proof and message.

Rows are streamed in order; a row that cannot be marked says why and loses nothing. Text that a spreadsheet would
take for a formula is written with a leading apostrophe in the columns that this module adds.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from io import StringIO
from typing import TextIO

from qbank.marking.antiderivative import AntiderivativeMarker
from qbank.marking.definite import DefiniteMarker, NoValueError
from qbank.marking.mark import Mark
from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import ReadingError, read

__all__ = ["ADDED", "MarkedTable", "TableError", "mark_rows"]

#: the columns that marking adds, in this order
ADDED = ("verdict", "score", "remarks", "slip", "proof", "message")

_NEEDED = ("integrand", "response")
#: where `csv` puts cells beyond the last named column; they are not lost, the row says so
_SURPLUS = "surplus"
_UNUSABLE = "The question of this row cannot be used"


class TableError(ValueError):
    """A file that is no table of responses; the text says what is missing."""


class _QuestionError(ValueError):
    """A row whose question cannot be understood."""


class MarkedTable:
    """A CSV file being marked: iterate for the lines of the marked file, in the order of the rows.

    Args:
        source: text with a header; columns `integrand` and `response`, optionally `variable`, `lower`, `upper`;
            all others are kept as they are.

    Attributes:
        rows: how many rows have been marked so far.
        unusable: how many of them had a question that could not be used.

    Raises:
        TableError: there is no header with the columns needed.
    """

    def __init__(self, source: TextIO) -> None:
        self._reader = csv.DictReader(source, restkey=_SURPLUS, restval="")
        names = list(self._reader.fieldnames or ())
        missing = [name for name in _NEEDED if name not in names]
        if missing:
            found = ", ".join(names) or "none"
            raise TableError(
                f"the first line must name the columns; missing: {', '.join(missing)} (found: {found})"
            )
        self._kept = [name for name in names if name not in ADDED]
        self.rows = 0
        self.unusable = 0

    def __iter__(self) -> Iterator[str]:
        line = StringIO()
        writer = csv.DictWriter(line, [*self._kept, *ADDED], extrasaction="ignore", lineterminator="\n")
        writer.writeheader()
        for row in mark_rows(self._reader):
            yield _emptied(line)
            writer.writerow(row)
            self.rows += 1
            self.unusable += row["message"].startswith(_UNUSABLE)
        yield _emptied(line)


def _emptied(buffer: StringIO) -> str:
    text = buffer.getvalue()
    buffer.seek(0)
    buffer.truncate()
    return text


def mark_rows(rows: Iterable[Mapping[str, str]]) -> Iterator[dict[str, str]]:
    """Each row with the added columns filled in."""
    for row in rows:
        yield {**row, **_cells(_mark(row))}


def _mark(row: Mapping[str, str]) -> Mark:
    question = tuple((row.get(name) or "").strip() for name in ("integrand", "variable", "lower", "upper"))
    try:
        marker = _marker(*question)
    except (_QuestionError, NoValueError) as error:
        return Mark(
            outcome="unsettled", score=None, message=f"The question of this row cannot be used: {error}"
        )
    return marker.mark(row.get("response") or "")


@lru_cache(maxsize=256)
def _marker(integrand: str, variable: str, lower: str, upper: str) -> AntiderivativeMarker | DefiniteMarker:
    letter = Symbol(variable or "x")
    tree = _question(integrand, letter, "integrand")
    if not lower and not upper:
        return AntiderivativeMarker(tree, letter)
    if not (lower and upper):
        raise _QuestionError("one limit is missing")
    return DefiniteMarker(
        tree, letter, _question(lower, letter, "lower limit"), _question(upper, letter, "upper limit")
    )


def _question(text: str, variable: Symbol, what: str) -> Expression:
    try:
        return read(text, variable=variable).tree
    except ReadingError as error:
        raise _QuestionError(f"{what}: {error.message}") from error


def _cells(mark: Mark) -> dict[str, str]:
    cells = {
        "verdict": mark.outcome,
        "score": "" if mark.score is None else f"{mark.score:g}",
        "remarks": " ".join(remark.identifier for remark in mark.remarks),
        "slip": mark.slip or "",
        "proof": mark.proof.replace("\n", " / "),
        "message": mark.message,
    }
    return {name: _harmless(text) for name, text in cells.items()}


def _harmless(text: str) -> str:
    """Text that no spreadsheet takes for a formula (common practice: a leading apostrophe)."""
    return "'" + text if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text
