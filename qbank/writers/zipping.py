"""A zip written from its first byte to its last, holding nothing of a member that is done.

`zipfile` keeps an object of each member until the end, half a kilobyte; of a hundred thousand small files that is more
than all else that an export needs. Here the directory grows in a file of its own beside the archive. The bytes are those that `zipfile` writes for the same members: its layout, from the ZIP application note
(APPNOTE.TXT 6.3.3: 4.3.7 local headers, 4.3.12 central directory, 4.3.14 to 4.3.16 its end, 4.5.3 large files).
"""

from __future__ import annotations

import errno
import shutil
import struct
import zlib
from collections.abc import Iterable
from itertools import chain
from typing import IO, Final

__all__ = ["Zip"]

#: version needed, flags, method, time, date, checksum, packed size, size, lengths of name and extra field
_MEMBER: Final = "<5H3L2H"
_LOCAL, _CENTRAL, _END = b"PK\x03\x04", b"PK\x01\x02", b"PK\x05\x06"
_LARGE_END, _LARGE_END_AT = b"PK\x06\x06", b"PK\x06\x07"

#: 1980-01-01, the earliest date that a zip can hold
_DATE = 1 << 5 | 1
_UNIX = 3
_MODE = 0o100644 << 16
_USUAL, _LARGE = 20, 45
_NAME_IN_UTF8 = 0x800
_STORED, _DEFLATED = 0, 8

#: what goes beyond wants the fields for large files; `zipfile` is as careful
_LONG = (1 << 31) - 1
_MANY = (1 << 16) - 1
_ELSEWHERE = 0xFFFFFFFF


class Zip:
    """A zip that is being written.

    Args:
        file: where it goes, from where the file stands; it can be sought in.
        directory: an empty file, where the directory grows until the end.
        deflate: pack members tightly.

    >>> import io, zipfile
    >>> file = io.BytesIO()
    >>> archive = Zip(file, io.BytesIO(), deflate=False)
    >>> archive.add("a.txt", [b"one ", b"two"])
    >>> archive.close(b"A comment.")
    >>> zipfile.ZipFile(file).read("a.txt")
    b'one two'
    """

    def __init__(self, file: IO[bytes], directory: IO[bytes], *, deflate: bool) -> None:
        self._file, self._directory = file, directory
        self._at = file.tell()
        self._method = _DEFLATED if deflate else _STORED
        self._count = 0

    def add(self, path: str, pieces: Iterable[bytes]) -> None:
        """Write a member.

        Args:
            path: relative, with forward slashes.
            pieces: its bytes, one after another.

        Raises:
            OSError: it is 2 GiB or longer, or the system refuses.
        """
        # most members are of one piece, and the system is asked for less when the file is not sought in
        pieces = iter(pieces)
        first, second = next(pieces, b""), next(pieces, None)
        if second is None:
            self._add_whole(path, first)
        else:
            self._add_long(path, chain((first, second), pieces))

    def _add_whole(self, path: str, data: bytes) -> None:
        """Write a member that is there from its first byte to its last."""
        packed = data
        if self._method == _DEFLATED:
            packer = zlib.compressobj(wbits=-15)
            packed = packer.compress(data) + packer.flush()
        self._insist_on_size(path, len(data), len(packed))
        checksum = zlib.crc32(data)
        header = self._header(path, checksum, len(packed), len(data))
        self._file.write(header)
        self._file.write(packed)
        self._enter(path, checksum, len(packed), len(data), len(header))

    def _add_long(self, path: str, pieces: Iterable[bytes]) -> None:
        """Write a member whose header is written anew when its last piece has come."""
        header = self._header(path, 0, 0, 0)
        self._file.write(header)
        checksum = length = packed = 0
        packer = zlib.compressobj(wbits=-15) if self._method == _DEFLATED else None
        for piece in pieces:
            checksum, length = zlib.crc32(piece, checksum), length + len(piece)
            packed += self._file.write(packer.compress(piece) if packer else piece)
        if packer:
            packed += self._file.write(packer.flush())
        self._insist_on_size(path, length, packed)
        self._file.seek(self._at)
        self._file.write(self._header(path, checksum, packed, length))
        self._file.seek(self._at + len(header) + packed)
        self._enter(path, checksum, packed, length, len(header))

    @staticmethod
    def _insist_on_size(path: str, length: int, packed: int) -> None:
        if max(length, packed) > _LONG:
            raise OSError(errno.EFBIG, f"{path} is too long for a zip")

    def _header(self, path: str, checksum: int, packed: int, length: int) -> bytes:
        name, flags = _encoded(path)
        fields = (_USUAL, flags, self._method, 0, _DATE, checksum, packed, length, len(name), 0)
        return _LOCAL + struct.pack(_MEMBER, *fields) + name

    def _enter(self, path: str, checksum: int, packed: int, length: int, header: int) -> None:
        """Append the line of a member, which has been written behind its header, to the directory."""
        name, flags = _encoded(path)
        needs, at, extra = _USUAL, self._at, b""
        if self._at > _LONG:
            needs, at, extra = _LARGE, _ELSEWHERE, struct.pack("<2HQ", 1, 8, self._at)
        self._at += header + packed
        fields = (needs, flags, self._method, 0, _DATE, checksum, packed, length, len(name), len(extra))
        start = _CENTRAL + struct.pack("<2B", needs, _UNIX) + struct.pack(_MEMBER, *fields)
        self._directory.write(start + struct.pack("<3H2L", 0, 0, 0, _MODE, at) + name + extra)
        self._count += 1

    def close(self, comment: bytes = b"") -> None:
        """Write the directory and the end; both files stay open.

        Args:
            comment: of the archive.
        """
        begin = self._at
        self._directory.seek(0)
        shutil.copyfileobj(self._directory, self._file)
        end = self._file.tell()
        count, length, at = self._count, end - begin, begin
        if count > _MANY or max(length, at) > _LONG:
            fields = (44, _LARGE, _LARGE, 0, 0, count, count, length, at)
            self._file.write(_LARGE_END + struct.pack("<Q2H2L4Q", *fields))
            self._file.write(_LARGE_END_AT + struct.pack("<LQL", 0, end, 1))
            count, length, at = min(count, _MANY), min(length, _ELSEWHERE), min(at, _ELSEWHERE)
        self._file.write(_END + struct.pack("<4H2LH", 0, 0, count, count, length, at, len(comment)) + comment)


def _encoded(path: str) -> tuple[bytes, int]:
    """The bytes of a name, and the flag that says how they are to be read."""
    return (path.encode("ascii"), 0) if path.isascii() else (path.encode(), _NAME_IN_UTF8)
