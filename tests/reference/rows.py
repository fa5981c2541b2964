"""Rows of published integrals: the project's own small files, and the larger ones kept beside the checkout.

The large files use a programming language's syntax (`**`, `asin`, `E`); everything goes through the project's
own reader, which knows those names too. `E` alone is respelt, because it is a letter like any other to a student.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import ReadingError, read

DATA = Path(__file__).resolve().parent / "data"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One published integral.

    Attributes:
        name: the identifier in its file.
        integrand: as text.
        antiderivative: as text.
        variable: the variable.
        parameters: the other letters, taken positive.
        status: `ok` where an independent numerical check found it right at every point; see the files.
    """

    name: str
    integrand: str
    antiderivative: str
    variable: Symbol
    parameters: frozenset[Symbol]
    status: str

    def trees(self) -> tuple[Expression, Expression]:
        """The integrand and the antiderivative as trees.

        Raises:
            ReadingError: when a text is not in the language.
        """
        return self._tree(self.integrand), self._tree(self.antiderivative)

    @property
    def letters(self) -> frozenset[Symbol]:
        """The letters of the trees other than the variable, all positive."""
        return frozenset(letter for tree in self.trees() for letter in tree.symbols()) - {self.variable}

    def _tree(self, text: str) -> Expression:
        return read_row(text, self.variable, self.parameters)


def read_row(text: str, variable: Symbol, parameters: frozenset[Symbol] = frozenset()) -> Expression:
    """A text of the files as a tree; a parameter `e`, which would read as the number, becomes another letter."""
    if Symbol("e") in parameters:
        spare = next(letter for letter in "kpqm" if Symbol(letter) not in parameters)
        text = re.sub(r"\be\b", spare, text)
    text = re.sub(r"\bE\b", "e", text)
    text = re.sub(r"\bRational\((-?\d+), ?(\d+)\)", r"(\1/\2)", text)
    return read(text, variable=variable).tree


def rows(path: Path) -> Iterator[Row]:
    """The rows of a file that have an antiderivative, in order."""
    with path.open(encoding="utf-8", newline="") as stream:
        for record in csv.DictReader(stream):
            if record["antiderivative"]:
                yield Row(
                    name=record["id"],
                    integrand=record["integrand"],
                    antiderivative=record["antiderivative"],
                    variable=Symbol(record["variable"]),
                    parameters=frozenset(Symbol(name) for name in record.get("params", "").split()),
                    status=record["status"],
                )


__all__ = ["DATA", "ReadingError", "Row", "read_row", "rows"]
