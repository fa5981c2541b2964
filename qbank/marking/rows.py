"""Rows of a class's responses, whatever file they come from: what is kept, and what is asked and answered in them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from qbank.bank.policy import ACCEPTING, Policy
from qbank.marking.entry import Entry, Marked, unusable

__all__ = [
    "ADDED",
    "NEEDED",
    "OPTIONAL",
    "Columns",
    "Row",
    "TableError",
    "added_cells",
    "entry_of",
    "with_pseudonyms",
]

#: the columns that marking adds, in this order
ADDED = ("verdict", "score", "remarks", "slip", "proof", "message")
#: what every row must say
NEEDED = ("integrand", "response")
#: what a row may say
OPTIONAL = ("variable", "lower", "upper", "domain", "figures")


class TableError(ValueError):
    """A file that is no table of responses; the text says what is missing and where."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row.

    Attributes:
        cells: name and value of everything that is kept, in order; names may be empty or come twice.
        surplus: cells beyond the last column that has a name.
        entry: what is to be marked, or None.
        settled: the mark of a row that needs no marking.
        problem: why there is neither.
    """

    cells: tuple[tuple[str, Any], ...]
    surplus: tuple[str, ...] = ()
    entry: Entry | None
    settled: Marked | None = None
    problem: str = ""

    def unmarked(self) -> Marked:
        """The mark of a row without an entry."""
        return self.settled or unusable(self.problem)


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """What the columns of a file are called, by what they mean; a meaning without a name is called by its own.

    Attributes:
        names: a name for some of `NEEDED` and `OPTIONAL`.
        decimal: the decimal sign in the mathematics of the file.
        policy: what answers score that lack something, and slips.
        language: BCP 47 tag of what is said to the students.
    """

    names: Mapping[str, str]
    decimal: str = "."
    policy: Policy = ACCEPTING
    language: str = "en"

    def __post_init__(self) -> None:
        strange = sorted(set(self.names) - {*NEEDED, *OPTIONAL})
        if strange:
            raise TableError(
                f"there is no meaning {strange[0]!r} for a column; there are {', '.join((*NEEDED, *OPTIONAL))}"
            )

    def name(self, meaning: str) -> str:
        """The name in the file of the column with a meaning."""
        return self.names.get(meaning, meaning)

    def missing(self, found: tuple[str, ...]) -> str:
        """What to say when a file has not the columns that are needed; empty when it has."""
        wanted = [*map(self.name, NEEDED), *self.names.values()]
        missing = [name for name in dict.fromkeys(wanted) if name not in found]
        if not missing:
            return ""
        shown = ", ".join(name for name in found if name) or "none"
        return f"missing: {', '.join(missing)} (found: {shown})"


def entry_of(cells: Mapping[str, str], columns: Columns) -> Entry:
    """What a row asks and answers."""
    given = {meaning: cells.get(columns.name(meaning), "") for meaning in (*NEEDED, *OPTIONAL)}
    return Entry(**given, decimal=columns.decimal, policy=columns.policy, language=columns.language)


def with_pseudonyms(rows: Iterable[Row], column: str) -> Iterator[Row]:
    """Rows with the names in one column replaced by `S1`, `S2`, ... in the order of their first appearance.

    Args:
        rows: the rows.
        column: the column of the names.
    """
    known: dict[str, str] = {}
    for row in rows:
        cells = tuple(
            (name, known.setdefault(str(value), f"S{len(known) + 1}") if name == column else value)
            for name, value in row.cells
        )
        yield replace(row, cells=cells)


def added_cells(mark: Marked) -> dict[str, str]:
    """A mark as the text of the added columns."""
    return {
        "verdict": mark.verdict,
        "score": "" if mark.score is None else f"{mark.score:g}",
        "remarks": " ".join(mark.remarks),
        "slip": mark.slip,
        "proof": mark.proof,
        "message": mark.message,
    }
