"""Marking a CSV file: one row in, the same row out with verdict, score, remarks, slip, proof and message.

Rows are streamed in order; a row that cannot be marked says why and loses nothing. Text that a spreadsheet would
take for a formula is written with a leading apostrophe in the columns that this module adds.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TextIO

from qbank.marking.antiderivative import AntiderivativeMarker
from qbank.marking.definite import DefiniteMarker, NoValueError
from qbank.marking.mark import Mark
from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import ReadingError, read

__all__ = ["ADDED", "TableError", "TableSummary", "mark_rows", "mark_table"]

#: the columns that marking adds, in this order
ADDED = ("verdict", "score", "remarks", "slip", "proof", "message")

_NEEDED = ("integrand", "response")
_UNUSABLE = "The question of this row cannot be used"


class TableError(ValueError):
    """A file that is no table of responses; the text says what is missing."""


class _QuestionError(ValueError):
    """A row whose question cannot be understood."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSummary:
    """What became of a table.

    Attributes:
        rows: how many rows were written.
        unusable: how many of them had a question that could not be used.
    """

    rows: int
    unusable: int


def mark_table(source: TextIO, target: TextIO) -> TableSummary:
    """Mark a CSV file.

    Args:
        source: text with a header; columns `integrand` and `response`, optionally `variable`, `lower`, `upper`;
            all others are kept as they are.
        target: where the marked rows go.

    Returns:
        How many rows were written, and how many had no usable question.

    Raises:
        TableError: there is no header with the columns needed.
    """
    reader = csv.DictReader(source, restkey="surplus", restval="")
    names = list(reader.fieldnames or ())
    missing = [name for name in _NEEDED if name not in names]
    if missing:
        raise TableError(
            f"the first line must name the columns; missing: {', '.join(missing)} (found: {', '.join(names) or 'none'})"
        )
    kept = [name for name in names if name not in ADDED]
    writer = csv.DictWriter(target, [*kept, *ADDED], extrasaction="ignore", lineterminator="\n")
    writer.writeheader()
    count = unusable = 0
    for row in mark_rows(reader):
        writer.writerow(row)
        count += 1
        unusable += row["message"].startswith(_UNUSABLE)
    return TableSummary(rows=count, unusable=unusable)


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
