"""Files appear whole or not at all, never in place of somebody else's, and always with the same bytes."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Self

import pytest

from qbank.writers.archive import OutputError, write_file, write_zip
from qbank.writers.artifact import OWN_JSON, Artifact

MEMBERS = (Artifact("b/two.xml", b"<b/>"), Artifact("a.xml", b"<a>"), Artifact("a.xml", b"</a>"))


def names(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir()]


def test_members_in_their_order_with_pieces_joined(tmp_path: Path) -> None:
    target = write_zip(MEMBERS, tmp_path / "new" / "p.zip")
    with zipfile.ZipFile(target) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == ["b/two.xml", "a.xml"]
        assert archive.read("a.xml") == b"<a></a>"
        for member in archive.infolist():
            assert member.date_time == (1980, 1, 1, 0, 0, 0)
            assert (member.create_system, member.external_attr >> 16) == (3, 0o100644)
            assert member.compress_type == zipfile.ZIP_STORED


@pytest.mark.parametrize("deflate", [False, True])
def test_same_bytes_wherever_and_whenever(tmp_path: Path, deflate: bool) -> None:
    first = write_zip(MEMBERS, tmp_path / "one.zip", deflate=deflate)
    second = write_zip(iter(MEMBERS), tmp_path / "other" / "two.zip", deflate=deflate)
    assert first.read_bytes() == second.read_bytes()


def test_ours_is_replaced(tmp_path: Path) -> None:
    package = write_zip(MEMBERS, tmp_path / "p.zip")
    write_zip(MEMBERS[:1], package)
    with zipfile.ZipFile(package) as archive:
        assert archive.namelist() == ["b/two.xml"]
    document = write_file((Artifact("d", OWN_JSON + b"}"),), tmp_path / "d.json")
    write_file((Artifact("d", OWN_JSON + b',"x":1}'),), document)
    assert document.read_bytes() == OWN_JSON + b',"x":1}'


def foreign_zip(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("x", "y")


@pytest.mark.parametrize(
    "make",
    [
        foreign_zip,
        lambda path: path.write_bytes(b""),
        lambda path: path.write_bytes(b'{"generator":"qbanker"'),
        lambda path: path.write_bytes(b"PK\x05\x06" + bytes(18)[:-1] + b"\x01"),
    ],
)
def test_what_we_did_not_write_stays_unless_forced(tmp_path: Path, make: object) -> None:
    target = tmp_path / "p.zip"
    assert callable(make)
    make(target)
    before = target.read_bytes()
    with pytest.raises(OutputError, match="did not write"):
        write_zip(MEMBERS, target)
    assert target.read_bytes() == before
    write_zip(MEMBERS, target, force=True)
    assert zipfile.is_zipfile(target)
    assert names(tmp_path) == ["p.zip"]


def test_a_damaged_zip_is_not_ours(tmp_path: Path) -> None:
    target = write_zip(MEMBERS, tmp_path / "p.zip")
    data = bytearray(target.read_bytes())
    at = data.rindex(b"PK\x01\x02")
    data[at : at + 4] = b"XXXX"
    target.write_bytes(data)
    with pytest.raises(OutputError, match="did not write"):
        write_zip(MEMBERS, target)


def test_something_that_came_meanwhile_stays(tmp_path: Path) -> None:
    target = tmp_path / "p.zip"

    def artifacts() -> Iterator[Artifact]:
        target.write_text("mine")
        yield MEMBERS[0]

    with pytest.raises(OutputError, match="did not write"):
        write_zip(artifacts(), target)
    assert target.read_text() == "mine"
    assert names(tmp_path) == ["p.zip"]


def test_a_failure_half_way_leaves_what_was_there(tmp_path: Path) -> None:
    target = write_zip(MEMBERS, tmp_path / "p.zip")
    before = target.read_bytes()

    def failing() -> Iterator[Artifact]:
        yield MEMBERS[0]
        raise RuntimeError("no more items")

    with pytest.raises(RuntimeError, match="no more items"):
        write_zip(failing(), target)
    assert target.read_bytes() == before
    assert names(tmp_path) == ["p.zip"]


def test_artifacts_are_taken_one_by_one(tmp_path: Path) -> None:
    alive = 0

    class Counted(bytes):
        def __new__(cls) -> Self:
            nonlocal alive
            alive += 1
            return super().__new__(cls, b"x" * 1000)

        def __del__(self) -> None:
            nonlocal alive
            alive -= 1

    def many() -> Iterator[Artifact]:
        for number in range(50):
            assert alive <= 2
            yield Artifact(f"{number}.xml", Counted())

    write_zip(many(), tmp_path / "p.zip")


def test_a_folder_in_the_way(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="folder of that name"):
        write_file((), tmp_path, force=True)


def test_a_file_where_a_folder_is_needed(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(OutputError) as caught:
        write_zip(MEMBERS, tmp_path / "file" / "p.zip")
    assert caught.value.path == tmp_path / "file" / "p.zip"
    assert caught.value.hint


def test_no_permission(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_args: object, **_named: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(OutputError, match="no permission"):
        write_zip(MEMBERS, tmp_path / "p.zip")
    assert names(tmp_path) == []


def test_a_full_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_args: object, **_named: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OutputError, match="No space left on device"):
        write_file((Artifact("a", b"x"),), tmp_path / "a.json")
    assert names(tmp_path) == []


def test_one_file_has_one_path(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="cannot both be"):
        write_file(MEMBERS, tmp_path / "a.json")
    assert names(tmp_path) == []
