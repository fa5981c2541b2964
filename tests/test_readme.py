"""The README's tour runs, command by command, and its whole bank is a bank."""

from __future__ import annotations

import re
import shlex
from importlib.resources import files
from pathlib import Path

import pytest
from click.testing import CliRunner

from qbank.bank.loading import load_bank, parse_bank
from qbank.cli import main
from qbank.cli.arguments import SHIPPED
from qbank.techniques import TECHNIQUES
from qbank.techniques.definites.choosing import WAYS
from qbank.writers import WRITERS

README = (Path(__file__).resolve().parent.parent / "README.md").read_text(encoding="utf-8")
#: whole commands, whose parts are tested elsewhere: no lines are counted, which would take twice the time
pytestmark = pytest.mark.no_cover
TOUR = re.findall(r"^\$ qbank (.+)$", README, re.MULTILINE)


def test_the_tour_has_commands() -> None:
    assert {shlex.split(command)[0] for command in TOUR} == {
        "solve",
        "draw",
        "check",
        "mark",
        "export",
        "verify",
        "recover",
        "suggest",
    }


@pytest.mark.parametrize("command", TOUR)
def test_tour(command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("responses.csv").write_text(
        "name,integrand,response\nA,2x,x^2 + C\nB,cos x,-sin x\n", encoding="utf-8"
    )
    if "packages/" in command:  # written by the command above it in the tour, here by a quicker one
        CliRunner().invoke(main, ["export", "--to", "qti3", "--count", "1", "--out", "packages"])
    result = CliRunner().invoke(main, shlex.split(command), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    assert result.output


def test_the_bank_shown_is_a_bank() -> None:
    shown = re.findall(r"```yaml\n(.+?)```", README, re.DOTALL)
    whole, tests = shown
    assert parse_bank(whole.encode(), "README.md").templates
    shipped = (files("qbank.bank") / "library" / SHIPPED).read_text(encoding="utf-8")
    bank = parse_bank((shipped[: shipped.index("\ntests:")] + "\n" + tests).encode(), "README.md")
    assert [len(test.sections) for test in bank.tests] == [3]


def test_every_format_and_technique_is_named() -> None:
    names = (*(technique.identifier for technique in TECHNIQUES), *(way.identifier for way in WAYS))
    for name in (*WRITERS, *names):
        assert f"`{name}`" in README, name


def test_every_bank_is_in_the_table_with_its_templates() -> None:
    rows = dict(re.findall(r"^\| `(saltmarrow-[a-z-]+)` \| .* \| (\d+) \|$", README, flags=re.MULTILINE))
    library = Path(str(files("qbank.bank"))) / "library"
    assert rows == {path.stem: str(len(load_bank(path).templates)) for path in library.glob("*.yaml")}
