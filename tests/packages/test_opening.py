"""Hostile files: nothing outside, nothing unbounded, nothing twice, nothing hidden; and no file but a package."""

from __future__ import annotations

import os
import stat
import struct
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from qbank.packages.opening import Limits, Package, PackageError, is_zip, read_document
from tests.packages.sample import written, zipped


def refusal(path: Path, **limits: int) -> str:
    with pytest.raises(PackageError) as caught:
        Package(path, Limits(**limits))
    return str(caught.value)


def test_a_package_of_ours_opens(tmp_path: Path) -> None:
    path = written(tmp_path, "qti3")
    assert is_zip(path)
    with Package(path) as package:
        assert "imsmanifest.xml" in package
        assert "imsmanifest.xml" in package.names
        assert package.read("imsmanifest.xml").startswith(b"<?xml")
        with pytest.raises(PackageError, match="no member 'other'"):
            package.read("other")


@pytest.mark.parametrize(
    "name",
    [
        "/etc/passwd",
        "../outside.xml",
        "items/../../outside.xml",
        "items/./one.xml",
        "items//one.xml",
        "C:/one.xml",
        "items\\one.xml",
        ".hidden",
        "a\x1b[2J.xml",
        "one.xml\0.txt",
        "ite\u202ems.xml",
        "",
        " one.xml",
    ],
)
def test_names_that_lead_outside_or_mean_different_things(name: str, tmp_path: Path) -> None:
    path = tmp_path / "hostile.zip"
    with zipfile.ZipFile(path, "w") as archive:
        member = zipfile.ZipInfo("x" * max(1, len(name.encode())))
        archive.writestr(member, b"data")
    raw = path.read_bytes().replace(member.filename.encode(), name.encode() or b"\0")
    if not name.isascii():  # the flag that says that names are in UTF-8
        raw = raw.replace(b"PK\x01\x02\x14\x03\x14\x00\x00\x00", b"PK\x01\x02\x14\x03\x14\x00\x00\x08")
        raw = raw.replace(b"PK\x03\x04\x14\x00\x00\x00", b"PK\x03\x04\x14\x00\x00\x08")
    path.write_bytes(raw)
    assert "unsafe name" in refusal(path)


def test_a_member_twice_also_in_other_letters(tmp_path: Path) -> None:
    assert "occurs twice" in refusal(zipped(tmp_path / "a.zip", {"one.xml": b"1", "ONE.xml": b"2"}))
    path = tmp_path / "b.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("one.xml", b"1")
        with pytest.warns(UserWarning, match="Duplicate name"):
            archive.writestr("one.xml", b"2")
    assert "occurs twice" in refusal(path)


def test_an_encrypted_member(tmp_path: Path) -> None:
    path = zipped(tmp_path / "a.zip", {"one.xml": b"1"})
    raw = bytearray(path.read_bytes())
    entry = raw.index(b"PK\x01\x02")
    raw[entry + 8] |= 1
    path.write_bytes(raw)
    assert "encrypted" in refusal(path)


def test_a_link(tmp_path: Path) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w") as archive:
        member = zipfile.ZipInfo("one.xml")
        member.create_system, member.external_attr = 3, (stat.S_IFLNK | 0o777) << 16
        archive.writestr(member, "/etc/passwd")
    assert "a link" in refusal(path)


def test_a_packing_that_is_not_used_here(tmp_path: Path) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_BZIP2) as archive:
        archive.writestr("one.xml", b"1" * 100)
    assert "not used here" in refusal(path)


def test_a_bomb_is_refused_before_it_is_unpacked(tmp_path: Path) -> None:
    path = tmp_path / "bomb.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        archive.writestr("bomb.xml", b"0" * (8 << 20))
    assert path.stat().st_size < 20_000
    assert "too tightly" in refusal(path)
    assert "more than 1000 bytes" in refusal(path, member=1000)
    assert "unpacks to more than 1000" in refusal(path, total=1000)


def test_too_many_members_or_too_large_a_file(tmp_path: Path) -> None:
    path = zipped(tmp_path / "a.zip", {f"{n}.xml": b"" for n in range(5)})
    assert "more than 4 members" in refusal(path, members=4)
    assert "more than 100 bytes" in refusal(path, file=100)


def test_a_size_that_is_not_the_true_one(tmp_path: Path) -> None:
    """The table of contents says 3 bytes, the data hold 1,000: no more than what is stated is ever unpacked."""
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("one.xml", bytes(1000))
    raw = bytearray(path.read_bytes())
    entry = raw.index(b"PK\x01\x02")
    for stated in (3, 5000):
        raw[entry + 24 : entry + 28] = struct.pack("<L", stated)
        path.write_bytes(raw)
        with Package(path) as package, pytest.raises(PackageError, match=r"cannot be read|not of the size"):
            package.read("one.xml")


def _cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-200])


def _damage(path: Path) -> None:
    raw = bytearray(path.read_bytes())
    raw[200:260] = bytes(60)
    path.write_bytes(raw)


def test_a_truncated_package(tmp_path: Path) -> None:
    path = written(tmp_path, "qti3")
    _cut(path)
    assert "not a readable zip" in refusal(path)


def test_a_damaged_member(tmp_path: Path) -> None:
    path = written(tmp_path, "qti3")
    _damage(path)
    with Package(path) as package, pytest.raises(PackageError, match="cannot be read"):
        package.read(package.names[0])


@pytest.mark.parametrize(
    ("make", "why"),
    [
        (lambda path: path.write_bytes(b""), "empty"),
        (lambda path: path.write_bytes(b"no zip at all"), "not a readable zip"),
        (lambda path: path.mkdir(), "not a file"),
        (lambda _path: None, "cannot be read: No such file"),
        (os.mkfifo, "not a file"),
    ],
)
def test_what_is_no_package(make: Callable[[Path], object], why: str, tmp_path: Path) -> None:
    path = tmp_path / "thing"
    make(path)
    assert why in refusal(path)
    if why != "not a readable zip":
        with pytest.raises(PackageError, match=why):
            read_document(path)


def test_is_zip_of_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(PackageError, match="cannot be read"):
        is_zip(tmp_path / "none")


def test_a_document_is_bounded(tmp_path: Path) -> None:
    path = tmp_path / "a.json"
    path.write_bytes(b"{}" * 10)
    assert read_document(path) == b"{}" * 10
    with pytest.raises(PackageError, match="more than 10 bytes"):
        read_document(path, Limits(member=10))


def test_folders_are_not_members(tmp_path: Path) -> None:
    with Package(zipped(tmp_path / "a.zip", {"items/": b"", "items/one.xml": b"1"})) as package:
        assert package.names == ("items/one.xml",)
