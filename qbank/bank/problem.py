"""What is wrong with a bank file, as data: where, what, and how to mend it."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["BankError", "Place", "Problem"]


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where a value stands in a file: line and column, both counted from 1."""

    line: int
    column: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing that is wrong.

    Attributes:
        file: the file's name as the user gave it.
        place: line and column.
        pointer: JSON pointer (RFC 6901) of the value, empty for the whole file.
        code: a short identifier of the kind of problem.
        message: what is wrong, one sentence.
        hint: how to mend it; may be empty.
    """

    file: str
    place: Place
    pointer: str
    code: str
    message: str
    hint: str = ""

    def __str__(self) -> str:
        where = f"{self.file}:{self.place.line}:{self.place.column}"
        pointer = f" {self.pointer}" if self.pointer else ""
        hint = f"\n    hint: {self.hint}" if self.hint else ""
        return f"{where}:{pointer} {self.message}{hint}"


class BankError(Exception):
    """A bank that cannot be used; holds every problem found in one run, in the order of the file."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = tuple(sorted(problems, key=lambda p: (p.place, p.pointer, p.code, p.message)))
        super().__init__("\n".join(str(problem) for problem in self.problems))
