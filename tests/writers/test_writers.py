"""Every writer of the registry: same bytes twice, in any process, and its files beside the goldens."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from lxml import etree

from qbank.writers import WRITERS, save
from qbank.writers.carrying import FEATURES
from tests.writers.digest import digest, files
from tests.writers.sample_items import deck
from tests.writers.test_plain_json import SCHEMA
from tests.writers.validating import validate

ROOT = Path(__file__).resolve().parents[2]
GOLDEN = ROOT / "tests" / "golden"


@pytest.mark.parametrize("name", WRITERS)
def test_the_registry_is_consistent(name: str) -> None:
    writer = WRITERS[name]
    assert writer.name == name
    assert writer.title
    assert writer.carries <= set(FEATURES)
    assert set(writer.instead) <= set(FEATURES) - writer.carries
    assert writer.file_name(deck()) == f"powers-{name}{writer.suffix}"


@pytest.mark.parametrize("name", WRITERS)
def test_paths_are_relative_and_all_pieces_of_one_come_together(name: str) -> None:
    order = [artifact.path for artifact in WRITERS[name].write(deck())]
    changes = [path for before, path in zip(["", *order], order, strict=False) if path != before]
    assert len(changes) == len(set(changes))
    assert not any(path.startswith("/") or ".." in path or "\\" in path for path in order)


@pytest.mark.parametrize("seed", ["0", "4711"])
def test_same_bytes_in_another_process_with_another_hash_seed(seed: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.writers.digest"],
        env={**os.environ, "PYTHONHASHSEED": seed},
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )
    assert done.stdout.splitlines() == [f"{name} {digest(name)}" for name in WRITERS]


@pytest.mark.parametrize("name", WRITERS)
def test_saved_twice_is_the_same_file(name: str, tmp_path: Path) -> None:
    first = save(WRITERS[name], deck(), tmp_path / "one").read_bytes()
    assert save(WRITERS[name], deck(), tmp_path / "one").read_bytes() == first


def readable(path: str, data: bytes) -> bytes:
    """JSON is spread over lines for the eye; XML stays as it is."""
    if path.endswith(".json"):
        return (json.dumps(json.loads(data), indent=1, ensure_ascii=False) + "\n").encode()
    return data


def update(name: str, request: pytest.FixtureRequest) -> None:
    """Write the goldens anew, only from output that the schemas accept."""
    written = files(name)
    accept(name, written)
    folder = GOLDEN / name
    for old in sorted(folder.rglob("*")):
        if old.is_file():
            old.unlink()
    for path, data in written.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(readable(path, data))
    if name != "json":
        validate(request.getfixturevalue("shared"), folder)


def accept(name: str, written: dict[str, bytes]) -> None:
    for path, data in written.items():
        if path.endswith(".xml"):
            etree.fromstring(data)
        else:
            assert name == "json"
            assert not list(Draft202012Validator(SCHEMA).iter_errors(json.loads(data)))


@pytest.mark.parametrize("name", WRITERS)
def test_golden(name: str, update_goldens: bool, request: pytest.FixtureRequest) -> None:
    """On a difference: read it, then accept it with `pytest tests/writers --update-goldens`."""
    if update_goldens:
        update(name, request)
    folder = GOLDEN / name
    golden = {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
    assert golden, f"no goldens in {folder}"
    written = {path: readable(path, data) for path, data in files(name).items()}
    assert sorted(written) == sorted(golden)
    for path, data in written.items():
        assert data.decode() == golden[path].decode(), path
