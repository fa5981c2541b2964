"""Artifacts onto the disk: the only module of the project that writes a file of an export.

A file appears whole or not at all: it is written beside its place under another name, then renamed. The same artifacts
give the same bytes: members are stored in their order, with a fixed date, system and mode. They are not deflated unless
asked for, because the bytes of a deflated member depend on the library that made it.

A file in the way is replaced only if it is one of ours. A zip says so in its comment, a JSON document in its first member.
"""

from __future__ import annotations

import os
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from itertools import groupby
from operator import attrgetter
from pathlib import Path
from tempfile import SpooledTemporaryFile
from typing import BinaryIO, Literal

from qbank.writers.artifact import OWN_JSON, Artifact
from qbank.writers.zipping import Zip

__all__ = ["OutputError", "go_on_writing", "unfinished", "write_file", "write_zip"]

_COMMENT = b"Written by qbank, which may overwrite it."
#: so much of a zip's directory is held in memory
_HELD = 1 << 20
#: so much is gathered before the system is asked to write it
_GATHERED = 1 << 18


class OutputError(Exception):
    """A file cannot be written.

    Attributes:
        path: which.
        reason: why, in one sentence.
        hint: what to do about it.
    """

    def __init__(self, path: Path, reason: str, hint: str) -> None:
        super().__init__(f"{path}: {reason} ({hint})")
        self.path = path
        self.reason = reason
        self.hint = hint


def write_zip(
    artifacts: Iterable[Artifact], target: Path, *, force: bool = False, deflate: bool = False
) -> Path:
    """Pack artifacts into a zip.

    Args:
        artifacts: the members; taken one after the other, never gathered.
        target: the file to write; its folder is made if need be.
        force: also replace a file that was not written by this program.
        deflate: pack members tightly. The bytes are then the same on machines with the same zlib only.

    Returns:
        The target.

    Raises:
        OutputError: something is in the way, or the system refuses.
    """
    with _replacing(target, force=force) as handle, SpooledTemporaryFile(max_size=_HELD) as directory:
        archive = Zip(handle, directory, deflate=deflate)
        for path, pieces in groupby(artifacts, key=attrgetter("path")):
            archive.add(path, (piece.data for piece in pieces))
        archive.close(_COMMENT)
    return target


def write_file(artifacts: Iterable[Artifact], target: Path, *, force: bool = False) -> Path:
    """Write the pieces of one file.

    Args:
        artifacts: the pieces, all of one path; which path does not matter.
        target: the file to write; its folder is made if need be.
        force: also replace a file that was not written by this program.

    Returns:
        The target.

    Raises:
        OutputError: something is in the way, or the system refuses.
        ValueError: the artifacts are of more than one path.
    """
    with _replacing(target, force=force) as handle:
        first: str | None = None
        for piece in artifacts:
            if piece.path != (first := first or piece.path):
                raise ValueError(f"{piece.path} and {first} cannot both be {target}")
            handle.write(piece.data)
    return target


def unfinished(target: Path) -> Path:
    """Where a file of `go_on_writing` grows until it is whole.

    >>> print(unfinished(Path("marks.csv")))
    marks.csv.unfinished
    """
    return target.with_name(target.name + ".unfinished")


def go_on_writing(pieces: Iterable[bytes], target: Path, *, kept: int = 0, force: bool = False) -> Path:
    """Write a file that takes long: after an interruption its beginning is still there, to be gone on with.

    Args:
        pieces: what is written, each at once.
        target: the file to write; its folder is made if need be.
        kept: how many bytes of the unfinished file are good; the pieces follow on them.
        force: also replace a file that was not written by this program.

    Returns:
        The target.

    Raises:
        OutputError: something is in the way, or the system refuses.
    """
    beside = unfinished(target)
    lost = "what was marked is kept"
    try:
        with _taking_the_place(target, beside, "r+b" if kept else "wb", force=force, lost=lost) as handle:
            handle.truncate(kept)
            handle.seek(kept)
            for piece in pieces:
                handle.write(piece)
                handle.flush()
    finally:
        # a beginning in which nothing stands is nothing to go on with
        with suppress(OSError):
            if not beside.stat().st_size:
                beside.unlink()
    return target


@contextmanager
def _replacing(target: Path, *, force: bool) -> Iterator[BinaryIO]:
    """A file to write into, which takes the place of `target` when all has gone well and is gone when not."""
    # the number of the process keeps two exports into one folder apart
    beside = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        with _taking_the_place(target, beside, "xb", force=force, lost="nothing was changed") as handle:
            yield handle
    finally:
        with suppress(OSError):
            beside.unlink()


@contextmanager
def _taking_the_place(
    target: Path, beside: Path, mode: Literal["xb", "wb", "r+b"], *, force: bool, lost: str
) -> Iterator[BinaryIO]:
    """A file beside `target` that takes its place at the end; says what is lost when the system refuses."""
    try:
        _refuse_foreign(target, force=force)
        target.parent.mkdir(parents=True, exist_ok=True)
        with beside.open(mode, _GATHERED) as handle:
            yield handle
        # once more: something may have come while we were writing
        _refuse_foreign(target, force=force)
        beside.replace(target)
    except PermissionError as problem:
        raise OutputError(target, "no permission to write there", "choose another folder") from problem
    except OSError as problem:
        reason = problem.strerror or str(problem)
        raise OutputError(target, f"it cannot be written: {reason}", lost) from problem


def _refuse_foreign(target: Path, *, force: bool) -> None:
    if target.is_dir():
        raise OutputError(target, "there is a folder of that name", "choose another name")
    if target.exists() and not force and not _is_ours(target):
        raise OutputError(target, "there is a file that qbank did not write", "--force replaces it")


def _is_ours(target: Path) -> bool:
    """Whether a file was written here: by its comment if it is a zip, else by its first bytes."""
    if zipfile.is_zipfile(target):
        try:
            with zipfile.ZipFile(target) as archive:
                return archive.comment == _COMMENT
        except zipfile.BadZipFile:
            return False
    with target.open("rb") as handle:
        return handle.read(len(OWN_JSON)) == OWN_JSON
