"""Writers: a deck of items in, named bytes out. Only `archive` touches the disk.

    Deck --Writer.write--> Artifact, Artifact, ... --archive--> a file

A new format is a module with a function from a deck to artifacts, and one line in `WRITERS`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType

from qbank.items.deck import Deck
from qbank.writers import plain_json, qti
from qbank.writers.archive import OutputError, write_file, write_zip
from qbank.writers.artifact import Artifact
from qbank.writers.carrying import table

__all__ = ["USUAL", "WRITERS", "Artifact", "OutputError", "Writer", "save", "what_formats_carry"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Writer:
    """One export format.

    Attributes:
        name: what it is called on the command line.
        title: what it is called in a sentence.
        carries: which of `carrying.FEATURES` it can hold.
        suffix: how the names of its files end; `.zip` for a package of many members.
        write: makes the artifacts of a deck.
        instead: for features that it cannot hold, what is written in their place.
    """

    name: str
    title: str
    carries: frozenset[str]
    suffix: str
    write: Callable[[Deck], Iterator[Artifact]]
    instead: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def file_name(self, deck: Deck) -> str:
        """The usual name of the file for a deck, `BANK-FORMAT.SUFFIX`."""
        return f"{deck.bank}-{self.name}{self.suffix}"


_ALL_FORMS = frozenset({"choice", "numeric", "coefficients", "free-expression"})
_QTI = _ALL_FORMS | {"rubric", "feedback", "worked-solution", "pools", "shuffling", "mathml"}
_JSON = _ALL_FORMS | {"rubric", "feedback", "worked-solution", "pools", "mathml", "spoken", "evidence"}

#: the formats that are written when none is named
USUAL = ("qti3", "json")

WRITERS = MappingProxyType(
    {
        writer.name: writer
        for writer in (
            Writer(
                name="qti3",
                title="QTI 3.0 package",
                carries=_QTI | {"spoken"},
                suffix=".zip",
                write=qti.package,
            ),
            Writer(
                name="json",
                title="generic JSON",
                carries=_JSON,
                suffix=".json",
                write=plain_json.document,
            ),
        )
    }
)


def what_formats_carry() -> list[str]:
    """The table of formats and features, line by line."""
    return table({name: writer.carries for name, writer in WRITERS.items()})


def save(writer: Writer, deck: Deck, target: Path, *, force: bool = False, deflate: bool = False) -> Path:
    """Write a deck to a file.

    Args:
        writer: the format.
        deck: what to write.
        target: the file.
        force: also replace a file that qbank did not write.
        deflate: pack the members of a package tightly; see `archive`.

    Returns:
        The target.

    Raises:
        OutputError: something is in the way, or the system refuses.
        ValueError: the deck cannot be written in this format.
    """
    artifacts = writer.write(deck)
    if writer.suffix == ".zip":
        return write_zip(artifacts, target, force=force, deflate=deflate)
    return write_file(artifacts, target, force=force)
