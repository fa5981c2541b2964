"""`qbank recover` as a person calls it, and `export --without-source`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from qbank.cli import main
from tests.packages.sample import BANK, changed, written


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [*map(str, arguments)], catch_exceptions=False)


@pytest.mark.parametrize("form", ["qti3", "json"])
def test_there_and_back(form: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("my.yaml").write_text(BANK, encoding="utf-8")
    assert (
        run("export", "my.yaml", "--to", form, "--count", "1", "--seed", "9", "--out", "out").exit_code == 0
    )
    (package,) = Path("out").iterdir()
    result = run("recover", package, "--out", "back.yaml")
    assert result.exit_code == 0, result.output
    assert Path("back.yaml").read_bytes() == Path("my.yaml").read_bytes()
    assert "qbank export back.yaml --count 1 --seed 9 --pick 1\n" in result.output
    result = run("recover", package)
    assert result.exit_code == 2, "a file that is there is not overwritten"
    assert "--force" in result.output
    assert run("recover", package, "--force").exit_code == 0


def test_chosen_templates_are_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("my.yaml").write_text(BANK, encoding="utf-8")
    run("export", "my.yaml", "--to", "json", "--count", "1", "--template", "sine-squared", "--out", "out")
    assert "--template sine-squared" in run("recover", "out/small-json.json", "--out", "b.yaml").output


def test_without_source(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    run("export", "--template", "sine-squared", "--count", "1", "--to", "qti3", "--without-source")
    result = run("recover", "exports/saltmarrow-integration-qti3.zip")
    assert result.exit_code == 2
    assert "does not carry its source" in result.output


def test_what_a_package_says_does_not_steer_the_terminal(tmp_path: Path) -> None:
    def change(parts: dict[str, bytes]) -> None:
        value = json.loads(parts["source/draw.json"])
        parts["source/draw.json"] = json.dumps(
            value | {"templates": ["\x1b[2J; rm"], "version": "\x07"}
        ).encode()

    result = run("recover", changed(tmp_path, "qti3", change), "--out", tmp_path / "b.yaml")
    assert result.exit_code == 0
    assert "\x1b" not in result.output
    assert "\x07" not in result.output
    assert "'?[2J; rm'" in result.output, "quoted, so that it is one word to a shell"


def test_unusable(tmp_path: Path) -> None:
    path = tmp_path / "x.zip"
    path.write_bytes(b"PK\x05\x06")
    result = run("recover", path)
    assert result.exit_code == 2
    assert "not a readable zip" in result.output
    good = written(tmp_path, "qti3")
    assert run("recover", good, "--out", tmp_path / "package.zip" / "b.yaml").exit_code == 2
