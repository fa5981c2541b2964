"""Zips: the bytes are those of the standard library for the same members, and nothing is held of a member that is done."""

from __future__ import annotations

import io
import tracemalloc
import zipfile
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import BinaryIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.writers.zipping import Zip

Members = Sequence[tuple[str, Sequence[bytes]]]

COMMENT = b"A comment."


def ours(file: BinaryIO, members: Iterable[tuple[str, Sequence[bytes]]], *, deflate: bool) -> None:
    archive = Zip(file, io.BytesIO(), deflate=deflate)
    for path, pieces in members:
        archive.add(path, pieces)
    archive.close(COMMENT)


def standard(file: BinaryIO, members: Iterable[tuple[str, Sequence[bytes]]], *, deflate: bool) -> None:
    packing = zipfile.ZIP_DEFLATED if deflate else zipfile.ZIP_STORED
    with zipfile.ZipFile(file, "w", packing) as archive:
        archive.comment = COMMENT
        for path, pieces in members:
            member = zipfile.ZipInfo(path, (1980, 1, 1, 0, 0, 0))
            member.create_system, member.external_attr = 3, 0o100644 << 16
            member.compress_type = packing
            with archive.open(member, "w") as out:
                for piece in pieces:
                    out.write(piece)


def written(write: Callable[..., None], members: Members, *, deflate: bool) -> bytes:
    file = io.BytesIO()
    write(file, members, deflate=deflate)
    return file.getvalue()


@settings(max_examples=50)
@given(
    st.lists(
        st.tuples(
            st.text("abcé/.-", min_size=1, max_size=12).filter(lambda path: path.strip("/.")),
            st.lists(st.binary(max_size=300), max_size=3),
        ),
        max_size=5,
        unique_by=lambda member: member[0],
    ),
    st.booleans(),
)
def test_the_bytes_of_the_standard_library(members: Members, deflate: bool) -> None:
    assert written(ours, members, deflate=deflate) == written(standard, members, deflate=deflate)


def test_more_members_than_the_old_format_counts() -> None:
    members = [(f"{number}", [b"x"]) for number in range(1 << 16)]
    data = written(ours, members, deflate=False)
    assert data == written(standard, members, deflate=False)
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert len(archive.infolist()) == 1 << 16


@pytest.mark.parametrize("begin", [(1 << 31) - 10, 3 << 30])
def test_beyond_what_the_old_format_can_point_to(tmp_path: Path, begin: int) -> None:
    """The file is sparse: what lies before the archive takes no room on the disk."""
    tails = []
    for write in (ours, standard):
        with (tmp_path / write.__name__).open("w+b") as file:
            file.seek(begin)
            write(file, [("a", [b"one"]), ("b", [b"two"])], deflate=False)
            file.seek(begin)
            tails.append(file.read())
    assert tails[0] == tails[1]


def test_a_member_that_is_too_long_is_refused() -> None:
    class Long(bytes):
        def __len__(self) -> int:
            return 1 << 31

    with pytest.raises(OSError, match="too long"):
        Zip(io.BytesIO(), io.BytesIO(), deflate=False).add("a", [Long()])


def test_nothing_is_held_of_a_member_that_is_done(tmp_path: Path) -> None:
    with (tmp_path / "many").open("w+b") as file, (tmp_path / "directory").open("w+b") as directory:
        archive = Zip(file, directory, deflate=False)
        held = []
        tracemalloc.start()
        for number in range(15_000):
            archive.add(f"items/of-one-template/clone-{number:05}.xml", [b"x"])
            if number % 5_000 == 4_999:
                held.append(tracemalloc.get_traced_memory()[0])
        tracemalloc.stop()
        archive.close()
    assert held[2] < held[0] + 10_000
