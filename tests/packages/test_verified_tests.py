"""Packages of declared tests, sound and spoilt: what verification says of their sections and forms."""

from __future__ import annotations

import json
import zipfile
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from qbank.packages.verifying import verify
from qbank.writers import WRITERS, save
from tests.items.sitting import deck

FIRST, SECOND = "test-form-a.xml", "test-form-b.xml"


@cache
def forms() -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for artifact in WRITERS["qti3"].write(deck("hard", forms=2)):
        found[artifact.path] = found.get(artifact.path, b"") + artifact.data
    return found


def identifiers(form: int) -> list[str]:
    return [item.identifier for one in deck("hard", forms=2).papers[form].sections for item in one.items]


def problems(parts: dict[str, bytes], folder: Path) -> list[str]:
    path = folder / "package.zip"
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return [str(problem) for problem in verify(path).problems]


def test_a_sound_package(tmp_path: Path) -> None:
    assert problems(forms(), tmp_path) == []


def test_an_item_in_two_forms(tmp_path: Path) -> None:
    parts = dict(forms())
    for mine, other in zip(identifiers(1), identifiers(0), strict=True):
        parts[SECOND] = parts[SECOND].replace(mine.encode(), other.encode())
    found = problems(parts, tmp_path)
    assert sum(f"{FIRST} names this item too" in line for line in found) == len(identifiers(0))
    assert sum("no test names this item" in line for line in found) == len(identifiers(1))


def test_a_section_that_occurs_twice(tmp_path: Path) -> None:
    parts = dict(forms())
    parts[FIRST] = parts[FIRST].replace(b'"section-1-form-a"', f'"{identifiers(0)[0]}"'.encode())
    assert any("occurs twice" in line for line in problems(parts, tmp_path))


def test_a_pool_that_cannot_deal(tmp_path: Path) -> None:
    path = save(WRITERS["qti21"], deck("hard"), tmp_path / "pools.zip")
    assert verify(path).problems == []
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    parts["test.xml"] = parts["test.xml"].replace(b'select="1"', b'select="40"')
    assert any("'40' parts of" in line for line in problems(parts, tmp_path))


@pytest.mark.parametrize("change", ["unknown", "twice"])
def test_json(change: str, tmp_path: Path) -> None:
    path = save(WRITERS["json"], deck("hard", forms=2), tmp_path / "d.json")
    document: dict[str, Any] = json.loads(path.read_bytes())
    pools = [one["sections"][0]["pools"][0] for one in document["tests"]]
    pools[1]["items"] = ["nobody"] if change == "unknown" else pools[0]["items"]
    path.write_text(json.dumps(document), encoding="utf-8")
    why = "which is not there" if change == "unknown" else "tests name this item twice"
    assert [why in str(problem) for problem in verify(path).problems] == [True]


@pytest.mark.parametrize("draw", [{"forms": "2"}, {"test": 7}, {"forms": True}])
def test_a_source_that_contradicts_itself(draw: dict[str, object], tmp_path: Path) -> None:
    parts = dict(forms())
    parts["source/draw.json"] = json.dumps(json.loads(parts["source/draw.json"]) | draw).encode()
    assert any("how its items were drawn" in line for line in problems(parts, tmp_path))
