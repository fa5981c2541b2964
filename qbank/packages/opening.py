"""Opening a file that may come from anybody: names, number and sizes of its members are checked before one is read.

Nothing is unpacked onto the disk. A package that breaks one of these rules is not read at all.
"""

from __future__ import annotations

import re
import stat
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

__all__ = ["USUAL_LIMITS", "Limits", "Package", "PackageError", "is_zip", "read_document"]

#: letters of a member's name that mean the same on every system
_PLAIN_NAME = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.-]*(?:/[A-Za-z0-9_][A-Za-z0-9_.-]*)*")
_ENCRYPTED = 0x1 | 0x40
_PACKINGS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
#: what the library raises for a file that is not what it says
_BROKEN = (zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError, EOFError, OSError, ValueError)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What is still opened.

    Attributes:
        file: bytes of the file itself.
        members: how many members.
        member: bytes of one member, unpacked.
        total: bytes of all members, unpacked.
        ratio: unpacked bytes for a packed one, looked at for members of more than `free` bytes.
        free: unpacked bytes that any ratio is allowed for.
    """

    file: int = 2 << 30
    members: int = 250_000
    member: int = 256 << 20
    total: int = 4 << 30
    ratio: int = 200
    free: int = 1 << 20


USUAL_LIMITS = Limits()


class PackageError(Exception):
    """A file that cannot be used as a package; the text says why, in one sentence."""


class Package:
    """The members of a zip, read one at a time.

    Args:
        path: the file.
        limits: what is still opened.

    Raises:
        PackageError: it is no zip, or one that is not safe to read.
    """

    def __init__(self, path: Path, limits: Limits = USUAL_LIMITS) -> None:
        _check_size(path, limits.file)
        try:
            self._archive = zipfile.ZipFile(path)
        except _BROKEN as problem:
            raise PackageError(f"it is not a readable zip: {_reason(problem)}") from problem
        try:
            self._members = _checked(self._archive.infolist(), limits)
        except PackageError:
            self._archive.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._archive.close()

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all members, in the order of the package."""
        return tuple(self._members)

    def __contains__(self, name: str) -> bool:
        return name in self._members

    def read(self, name: str) -> bytes:
        """The bytes of a member.

        Raises:
            PackageError: there is no such member, or its bytes are damaged.
        """
        member = self._members.get(name)
        if member is None:
            raise PackageError(f"the package has no member {name[:200]!r}")
        try:
            with self._archive.open(member) as handle:
                # the size in the table of contents was checked; nothing beyond it is taken
                data = handle.read(member.file_size + 1)
        except _BROKEN as problem:
            raise PackageError(f"member {name!r} cannot be read: {_reason(problem)}") from problem
        if len(data) != member.file_size:
            raise PackageError(f"member {name!r} is not of the size that the package states")
        return data


def is_zip(path: Path) -> bool:
    """Whether a file begins as a zip does.

    Raises:
        PackageError: it cannot be read.
    """
    with _readable(), path.open("rb") as handle:
        return handle.read(2) == b"PK"


def read_document(path: Path, limits: Limits = USUAL_LIMITS) -> bytes:
    """The bytes of a file that is one document.

    Raises:
        PackageError: it cannot be read, is empty, or is too large.
    """
    _check_size(path, limits.member)
    with _readable(), path.open("rb") as handle:
        data = handle.read(limits.member + 1)
    if len(data) > limits.member:
        raise PackageError(f"it has more than {limits.member} bytes")
    return data


def _check_size(path: Path, most: int) -> None:
    with _readable():
        found = path.stat()
    if not stat.S_ISREG(found.st_mode):
        raise PackageError("it is not a file")
    if not found.st_size:
        raise PackageError("the file is empty")
    if found.st_size > most:
        raise PackageError(f"it has more than {most} bytes")


@contextmanager
def _readable() -> Iterator[None]:
    try:
        yield
    except OSError as problem:
        raise PackageError(f"it cannot be read: {_reason(problem)}") from problem


def _checked(members: Iterable[zipfile.ZipInfo], limits: Limits) -> dict[str, zipfile.ZipInfo]:
    """The members by name, folders left out."""
    found: dict[str, zipfile.ZipInfo] = {}
    folded: set[str] = set()
    total = 0
    for count, member in enumerate(members, start=1):
        if count > limits.members:
            raise PackageError(f"it has more than {limits.members} members")
        total += member.file_size
        if total > limits.total:
            raise PackageError(f"it unpacks to more than {limits.total} bytes")
        _check_member(member, limits)
        # names that differ only in case are one file on some systems
        if member.filename.lower() in folded:
            raise PackageError(f"member {member.filename!r} occurs twice")
        folded.add(member.filename.lower())
        if not member.is_dir():
            found[member.filename] = member
    return found


def _check_member(member: zipfile.ZipInfo, limits: Limits) -> None:
    name = member.filename
    # the library cuts a name at a zero byte: the name as it stands in the file is what counts
    if member.orig_filename != name or not _PLAIN_NAME.fullmatch(name.removesuffix("/")):
        raise PackageError(f"a member has the unsafe name {member.orig_filename[:200]!r}")
    if member.flag_bits & _ENCRYPTED:
        raise PackageError(f"member {name!r} is encrypted")
    if stat.S_ISLNK(member.external_attr >> 16):
        raise PackageError(f"member {name!r} is a link")
    if member.compress_type not in _PACKINGS:
        raise PackageError(f"member {name!r} is packed in a way that is not used here")
    if member.file_size > limits.member:
        raise PackageError(f"member {name!r} has more than {limits.member} bytes")
    if member.file_size > max(limits.free, limits.ratio * member.compress_size):
        raise PackageError(f"member {name!r} is packed too tightly to be trusted")


def _reason(problem: Exception) -> str:
    text = problem.strerror if isinstance(problem, OSError) and problem.strerror else str(problem)
    return text or type(problem).__name__
