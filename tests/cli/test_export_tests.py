"""`qbank export --test` and `--forms`, and what is told of a deck that cannot be written."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from qbank.cli import main
from tests.items.sitting import TEXT


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [*map(str, arguments)], catch_exceptions=False)


@pytest.fixture
def bank(tmp_path: Path) -> Path:
    path = tmp_path / "small.yaml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def export(bank: Path, *arguments: str) -> Result:
    return run("export", bank, "--count", "2", "--out", bank.parent / "out", *arguments)


@pytest.mark.parametrize("forms", [(), ("--forms", "2")], ids=["pools", "forms"])
def test_what_is_said_written_verified_and_recovered(bank: Path, forms: tuple[str, ...]) -> None:
    out = bank.parent / "out"
    result = export(bank, "--test", "hard", "--to", "qti3", "--to", "json", *forms)
    assert result.exit_code == 0, result.output
    stem = f"small-hard{'-forms' if forms else ''}"
    assert result.stdout.splitlines() == [f"{out}/{stem}-qti3.zip", f"{out}/{stem}-json.json"]
    lines = result.stderr.splitlines()
    head = "Hard ones, form A" if forms else "Hard ones"
    place = next(place for place, line in enumerate(lines) if line.startswith(f"{head}: "))
    assert lines[place + 1].split() == ["section", "items", "marks", "difficulty"]
    assert lines[place + 2].split()[0] == "Hard"
    assert lines[place + 3].strip().startswith("whole test")
    assert ("largest difference between forms" in lines[-1]) == bool(forms)
    for name in (f"{stem}-qti3.zip", f"{stem}-json.json"):
        assert run("verify", out / name).exit_code == 0
        again = run("recover", out / name, "--out", out / "again.yaml", "--force")
        command = again.stderr.splitlines()[-1].split()
        assert command[:2] == ["qbank", "export"]
        assert run(*command[1:], "--to", "qti3", "--to", "json", "--out", out / "again").exit_code == 0
        # the name of the file is that of the recovered one; everything else is the same
        first, second = (read(folder / f"{stem}-qti3.zip") for folder in (out, out / "again"))
        assert first.keys() == second.keys()
        assert [path for path in first if first[path] != second[path]] == ["source/draw.json"]
        (out / "again.yaml").unlink()


def read(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def test_without_a_test_the_export_is_as_if_the_bank_had_none(bank: Path) -> None:
    export(bank, "--to", "qti3", "--template", "power", "--without-source")
    package = bank.parent / "out" / "small-qti3.zip"
    first = package.read_bytes()
    bank.write_text(TEXT[: TEXT.index("tests:")], encoding="utf-8")
    export(bank, "--to", "qti3", "--template", "power", "--without-source")
    assert package.read_bytes() == first


def test_what_a_cartridge_makes_of_a_test_is_said(bank: Path) -> None:
    pools = export(bank, "--test", "hard", "--to", "cc")
    assert "the items of all sections of a test, one after the other" in pools.stderr
    assert "parallel tests" in pools.stderr
    forms = export(bank, "--test", "hard", "--to", "cc", "--forms", "2")
    assert "parallel tests" not in forms.stderr
    assert "essay" not in export(bank, "--test", "lesson", "--to", "json").stderr


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (("--test", "hart"), "no test 'hart'; it has hard"),
        (("--forms", "2"), "name it with --test"),
        (("--test", "hard", "--template", "power"), "leave --template and --pick out"),
        (("--test", "hard", "--pick", "1"), "leave --template and --pick out"),
        (("--test", "hard", "--forms", "2", "--to", "cc", "--as", "bank"), "holds no --forms"),
        (("--test", "impossible"), "section 'Nothing': none of its templates"),
    ],
)
def test_what_cannot_be_done(bank: Path, arguments: tuple[str, ...], why: str) -> None:
    result = export(bank, *arguments)
    assert result.exit_code == 2
    assert why in result.stderr
    assert not (bank.parent / "out").exists()


def test_check_sets_the_tests(bank: Path) -> None:
    result = run("check", bank, "--sample", "1")
    assert result.exit_code == 1
    assert "test lesson: 10 items, " in result.stdout
    assert "test impossible, section 'Nothing': none of its templates" in result.stdout
    assert "test greedy, section 'All': template 'power" in result.stdout
    assert result.stdout.splitlines()[-1].endswith("problems above")


def test_a_bank_without_tests(bank: Path) -> None:
    bank.write_text(TEXT[: TEXT.index("tests:")], encoding="utf-8")
    result = export(bank, "--test", "hard")
    assert result.exit_code == 2
    assert "no test 'hard'; it has none" in result.stderr


def test_a_deck_that_a_format_cannot_hold(bank: Path) -> None:
    """A cartridge's weights end at 99: the profile of QTI 1.2.1 in Common Cartridge, `cc_weighting`."""
    bank.write_text(TEXT.replace("marks: 2", "marks: 100"), encoding="utf-8")
    result = export(bank, "--to", "cc", "--template", "power")
    assert result.exit_code == 2
    assert "power-" in result.stderr
    assert "at most 99 marks, and this one has 100" in result.stderr
    assert "hint: give it fewer marks" in result.stderr
    assert export(bank, "--to", "qti12", "--template", "power").exit_code == 0
