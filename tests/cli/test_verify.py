"""`qbank verify` as a person calls it."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from qbank.cli import main
from tests.packages.sample import changed, first, written


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["verify", *map(str, arguments)], catch_exceptions=False)


@pytest.mark.parametrize("form", ["qti3", "json"])
def test_sound(form: str, tmp_path: Path) -> None:
    result = run(written(tmp_path, form))
    assert result.exit_code == 0, result.output
    assert "choice, antiderivative" in result.output
    assert result.output.splitlines()[-1].endswith(": 4 items, with the bank they come from, no problems")


def test_a_problem(tmp_path: Path) -> None:
    def change(parts: dict[str, bytes]) -> None:
        name = first(parts, "choice")
        parts[name] = parts[name].replace(b"<mi>sin</mi>", b"<mi>\xc2\x9b31m</mi>", 1)

    result = run(changed(tmp_path, "qti3", change))
    assert result.exit_code == 1
    assert "1 problem, listed above" in result.output
    assert "\x9b" not in result.output, "text from a package does not steer the terminal"


def test_unusable(tmp_path: Path) -> None:
    path = tmp_path / "thing.zip"
    assert run(path).exit_code == 2
    path.write_bytes(b"")
    result = run(path)
    assert result.exit_code == 2
    assert "empty" in result.output
    good = written(tmp_path, "qti3")
    assert run(good, "--schemas", tmp_path / "none").exit_code == 2
    assert "no schemas" in run(good, "--schemas", tmp_path).output


def test_with_schemas(tmp_path: Path) -> None:
    """A folder that has some schema, though not ours: that is said for every document."""
    (tmp_path / "a.xsd").write_text("<x/>", encoding="utf-8")
    result = run(written(tmp_path, "qti3"), "--schemas", tmp_path)
    assert result.exit_code == 1
    assert "6 documents checked against the schemas, 6 problems" in result.output
    assert "is not in the folder" in result.output
