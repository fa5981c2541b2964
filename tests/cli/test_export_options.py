"""`qbank export`: what may be chosen about a format, and what is said of what it cannot carry."""

from __future__ import annotations

import sys
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from qbank.cli import main
from qbank.writers.pictures import drawing

SMALL = """
identifier: small
title: Squares
language: en
licence: CC-BY-4.0
version: "1.0.0"
templates:
  - identifier: sine-squared
    title: The square of a sine
    technique: even-powers
    parameters:
      a: {kind: integer, from: 2, to: 8}
    integrand: sin(a x)^2
    responses: [choice]
"""


@pytest.fixture
def bank(tmp_path: Path) -> Path:
    path = tmp_path / "small.yaml"
    path.write_text(SMALL, encoding="utf-8")
    return path


def export(bank: Path, out: Path, *arguments: str) -> Result:
    parts = ["export", str(bank), "--count", "2", "--out", str(out), *arguments]
    return CliRunner().invoke(main, parts, catch_exceptions=False)


@pytest.mark.parametrize(
    ("arguments", "name", "holds"),
    [
        ((), "small-cc.zip", ["tests/1.xml", "tests/2.xml"]),
        (("--as", "bank"), "small-cc-bank.zip", ["bank.xml"]),
        (("--cc-version", "1.3"), "small-cc-1.3.zip", ["tests/1.xml", "tests/2.xml"]),
        (("--as", "bank", "--cc-version", "1.3"), "small-cc-1.3-bank.zip", ["bank.xml"]),
    ],
)
def test_every_way_has_its_own_file(
    bank: Path, tmp_path: Path, arguments: tuple[str, ...], name: str, holds: list[str]
) -> None:
    result = export(bank, tmp_path / "out", "--to", "cc", *arguments)
    assert result.exit_code == 0, result.output
    assert result.stdout == f"{tmp_path / 'out' / name}\n"
    with zipfile.ZipFile(tmp_path / "out" / name) as archive:
        assert archive.namelist() == [*holds, "source/bank.yaml", "source/draw.json", "imsmanifest.xml"]
        assert b"source/" not in archive.read("imsmanifest.xml"), "students could be shown what it names"
    recovered = tmp_path / "recovered.yaml"
    again = CliRunner().invoke(main, ["recover", str(tmp_path / "out" / name), "--out", str(recovered)])
    assert again.exit_code == 0, again.output
    assert recovered.read_bytes() == bank.read_bytes()


def test_other_formats_do_not_heed_the_options(bank: Path, tmp_path: Path) -> None:
    export(bank, tmp_path / "one", "--to", "qti12")
    export(bank, tmp_path / "two", "--to", "qti12", "--as", "bank", "--cc-version", "1.3")
    assert (tmp_path / "one" / "small-qti12.zip").read_bytes() == (
        tmp_path / "two" / "small-qti12.zip"
    ).read_bytes()


def test_unknown_choices_are_refused(bank: Path, tmp_path: Path) -> None:
    assert export(bank, tmp_path, "--to", "cc", "--cc-version", "1.2").exit_code == 2
    assert export(bank, tmp_path, "--to", "cc", "--as", "quiz").exit_code == 2


def test_what_is_lost_is_said_on_standard_error(bank: Path, tmp_path: Path) -> None:
    only_choice = export(bank, tmp_path, "--to", "cc")
    assert "parallel tests" in only_choice.stderr
    assert "accepted spellings" not in only_choice.stderr
    text = SMALL.replace("[choice]", "[choice, free-expression]")
    bank.write_text(text, encoding="utf-8")
    result = export(bank, tmp_path, "--to", "cc", "--to", "qti12")
    assert result.stderr.count("an essay, marked by a person") == 2
    assert "parallel tests" not in "".join(
        line for line in result.stderr.splitlines() if line.startswith("qti12")
    )


def test_pictures(bank: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both formats of pictures, from which the bank is recovered; said at once when nothing can draw them."""
    for name, picture, one in (("cc", "png", "tests-1.xml"), ("qti21", "svg", "pictures/formulas.css")):
        result = export(bank, tmp_path, "--to", name, "--math", "pictures", "--picture", picture)
        assert result.exit_code == 0, result.output
        path = tmp_path / f"small-{name}-pictures-{picture}.zip"
        with zipfile.ZipFile(path) as archive:
            names = archive.namelist()
        assert one in names
        assert sum(held.endswith(f".{picture}") for held in names) > 10
        again = CliRunner().invoke(main, ["recover", str(path), "--out", str(tmp_path / f"{name}.yaml")])
        assert again.exit_code == 0, again.output
        assert (tmp_path / f"{name}.yaml").read_bytes() == bank.read_bytes()
    monkeypatch.setitem(sys.modules, "typst", None)
    drawing._compiler.cache_clear()
    result = export(bank, tmp_path / "none", "--to", "qti3", "--math", "pictures")
    assert result.exit_code == 2
    assert "pip install 'qbank[pictures]'" in result.stderr
    assert not (tmp_path / "none").exists()
    assert export(bank, tmp_path / "data", "--to", "json", "--math", "pictures").exit_code == 0
