"""A marked table as a sheet of students by items."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TextIO

from qbank.marking.rows import TableError
from qbank.marking.spreadsheet import DELIMITERS, as_typed

__all__ = ["Answer", "Sheet", "read_answers", "sheet_of"]

_NEEDED = ("response", "verdict", "score")
_VERDICTS = frozenset({"correct", "incorrect", "unsettled", "unreadable"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One marked response.

    Attributes:
        row: its place in the table, counted from 1.
        student: who answered; empty where the table does not say.
        item: what was answered.
        response: as it was typed.
        verdict: of the mark.
        score: from 0 to 1; None when a person must decide.
        slip: identifier of the slip, or empty.
        message: what the student is told.
    """

    row: int
    student: str
    item: str
    response: str
    verdict: str
    score: float | None
    slip: str
    message: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The answers of a class: of each student to each item the last one.

    Attributes:
        students: in the order of their first answer.
        items: likewise.
        answers: by student and item.
        repeated: earlier answers to the same item, which are left out.
    """

    students: tuple[str, ...]
    items: tuple[str, ...]
    answers: Mapping[tuple[str, str], Answer]
    repeated: int


def read_answers(source: TextIO, *, lines: bool, student: str, item: str | None) -> Iterator[Answer]:
    """The answers of a table that `qbank mark` wrote.

    Args:
        source: its text.
        lines: whether it is JSON Lines; else CSV.
        student: the column with the students.
        item: the column with the items; None for `item` where there is one, else the question itself.

    Raises:
        TableError: it is no marked table; the text says what is missing.
    """
    rows = _objects(source) if lines else _records(source)
    for number, row in enumerate(rows, 1):
        missing = [name for name in _NEEDED if name not in row]
        if number == 1 and student not in row:
            missing.append(student)
        if number == 1 and item is not None and item not in row:
            missing.append(item)
        if missing:
            raise TableError(f"row {number}: no column {missing[0]!r}; `qbank mark` writes such a table")
        yield _answer(number, row, student, item)


def _answer(number: int, row: Mapping[str, str], student: str, item: str | None) -> Answer:
    verdict = row["verdict"]
    if verdict not in _VERDICTS:
        raise TableError(f"row {number}: {verdict[:40]!r} is no verdict")
    try:
        score = float(row["score"]) if row["score"] else None
    except ValueError as problem:
        raise TableError(f"row {number}: the score {row['score'][:40]!r} is no number") from problem
    if score is not None and not 0 <= score <= 1:
        raise TableError(f"row {number}: a score is from 0 to 1, not {row['score'][:40]}")
    return Answer(
        row=number,
        student=row.get(student, ""),
        item=row.get(item or "item", "") or _question(row),
        response=row["response"],
        verdict=verdict,
        score=score,
        slip=row.get("slip", ""),
        message=row.get("message", ""),
    )


def _question(row: Mapping[str, str]) -> str:
    """A question by its own text, where items have no names."""
    limits = f" from {row['lower']} to {row['upper']}" if row.get("lower") and row.get("upper") else ""
    return f"{row.get('integrand', '')}{limits}"


def _records(source: TextIO) -> Iterator[Mapping[str, str]]:
    first = source.readline()
    if not first.strip():
        raise TableError("the table is empty")
    delimiter = max(DELIMITERS, key=first.count)
    names = next(csv.reader([first], delimiter=delimiter))
    try:
        for cells in csv.reader(source, delimiter=delimiter):
            if cells:
                # of columns with the same name the first is meant
                yield dict(reversed(list(zip(names, map(as_typed, cells), strict=False))))
    except csv.Error as problem:
        raise TableError(str(problem)) from problem


def _objects(source: TextIO) -> Iterator[Mapping[str, str]]:
    for number, line in enumerate(source, 1):
        try:
            value = json.loads(line)
        except (ValueError, RecursionError) as problem:
            raise TableError(f"line {number} is not JSON: {problem}") from problem
        if not isinstance(value, dict):
            raise TableError(f"line {number} is not an object")
        yield {name: "" if member is None else str(member) for name, member in value.items()}


def sheet_of(answers: Iterable[Answer]) -> Sheet:
    """The sheet of some answers.

    >>> one = Answer(row=1, student="A", item="q", response="x", verdict="incorrect", score=0.0, slip="", message="")
    >>> sheet_of([one]).students
    ('A',)
    """
    last: dict[tuple[str, str], Answer] = {}
    students: dict[str, None] = {}
    items: dict[str, None] = {}
    repeated = 0
    for answer in answers:
        students.setdefault(answer.student)
        items.setdefault(answer.item)
        place = answer.student, answer.item
        repeated += place in last
        last[place] = answer
    return Sheet(students=tuple(students), items=tuple(items), answers=last, repeated=repeated)
