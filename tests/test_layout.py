"""The top level is fixed, and the project speaks of itself alone."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent

TOP = {
    "README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "pyproject.toml",
    "qbank", "schemas", "tests", "exports",
}  # fmt: skip


def tracked() -> list[Path]:
    try:
        listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True).stdout
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("not a git checkout")
    return [Path(name) for name in listed.decode().split("\0") if name]


def test_top_level() -> None:
    found = {path.parts[0] for path in tracked()}
    assert {name for name in found if not name.startswith(".")} == TOP


def test_no_word_of_a_machine() -> None:
    # where a path of a machine would begin; this file names them, so it is left out
    telling = (b"/ro" + b"ot/", b"/wo" + b"rk/", b"/ho" + b"me/")
    for path in tracked():
        content = (ROOT / path).read_bytes()
        assert not [word for word in telling if word in content], path
