"""A bitmap read back: how dark each pixel is, after the PNG specification (W3C, third edition), sections 9 and 11."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator


def chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Kind and content of each chunk, whose checksums are checked."""
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    at = 8
    while at < len(data):
        length, kind = struct.unpack(">I4s", data[at : at + 8])
        content = data[at + 8 : at + 8 + length]
        assert struct.unpack(">I", data[at + 8 + length : at + 12 + length]) == (zlib.crc32(kind + content),)
        yield kind, content
        at += 12 + length


def ink(data: bytes) -> list[list[int]]:
    """How opaque each pixel is, row by row, of a bitmap with eight bits for each of red, green, blue and alpha."""
    parts = list(chunks(data))
    width, height, depth, colour, _, _, interlaced = struct.unpack(">IIBBBBB", dict(parts)[b"IHDR"])
    assert (depth, colour, interlaced) == (8, 6, 0)
    raw = zlib.decompress(b"".join(content for kind, content in parts if kind == b"IDAT"))
    before = bytearray(4 * width)
    rows = []
    for number in range(height):
        start = number * (4 * width + 1)
        line = bytearray(raw[start + 1 : start + 1 + 4 * width])
        _unfilter(raw[start], line, before)
        rows.append(list(line[3::4]))
        before = line
    return rows


def _unfilter(kind: int, line: bytearray, above: bytearray) -> None:
    for at in range(len(line)):
        left, corner = (line[at - 4], above[at - 4]) if at >= 4 else (0, 0)
        guess = (0, left, above[at], (left + above[at]) // 2, _paeth(left, above[at], corner))[kind]
        line[at] = (line[at] + guess) % 256


def _paeth(left: int, above: int, corner: int) -> int:
    guess = left + above - corner
    return min((left, above, corner), key=lambda one: abs(guess - one))
