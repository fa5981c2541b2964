"""What a writer hands out: named bytes, and who made them."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["GENERATOR", "OWN_JSON", "Artifact"]

#: the name under which every file says who wrote it
GENERATOR = "qbank"

#: how a JSON document written here begins; tells our own file from another
OWN_JSON = b'{"generator":"qbank"'


@dataclass(frozen=True, slots=True)
class Artifact:
    """A file of the output, or the next piece of it.

    Pieces with the same path that follow one another make up one file, so that a long file need not be held in
    memory as a whole.

    Attributes:
        path: relative, with forward slashes.
        data: the bytes.
    """

    path: str
    data: bytes
