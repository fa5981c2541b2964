"""Writers: a deck of items in, named bytes out. Only `archive` touches the disk.

    Deck --Writer.write--> Artifact, Artifact, ... --archive--> a file

A new format is a module with a function from a deck to artifacts, and one line in `WRITERS`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from qbank.items.deck import Deck
from qbank.writers import plain_json, qti
from qbank.writers.archive import OutputError, write_file, write_zip
from qbank.writers.artifact import Artifact

__all__ = ["WRITERS", "Artifact", "OutputError", "Writer", "save"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Writer:
    """One export format.

    Attributes:
        name: what it is called on the command line.
        title: what it is called in a sentence.
        carries: the response forms that it can hold.
        suffix: how the names of its files end; `.zip` for a package of many members.
        write: makes the artifacts of a deck.
    """

    name: str
    title: str
    carries: frozenset[str]
    suffix: str
    write: Callable[[Deck], Iterator[Artifact]]

    def file_name(self, deck: Deck) -> str:
        """The usual name of the file for a deck, `BANK-FORMAT.SUFFIX`."""
        return f"{deck.bank}-{self.name}{self.suffix}"


_ALL_FORMS = frozenset({"choice", "numeric", "free-expression"})

WRITERS = MappingProxyType(
    {
        writer.name: writer
        for writer in (
            Writer(
                name="qti3", title="QTI 3.0 package", carries=_ALL_FORMS, suffix=".zip", write=qti.package
            ),
            Writer(
                name="json",
                title="generic JSON",
                carries=_ALL_FORMS,
                suffix=".json",
                write=plain_json.document,
            ),
        )
    }
)


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
