"""`exports/` holds what the README's command writes: the shipped bank, byte for byte."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from qbank.cli import main
from qbank.writers import USUAL

EXPORTS = Path(__file__).resolve().parent.parent / "exports"


def test_every_usual_format_is_there() -> None:
    assert len([path for path in EXPORTS.iterdir() if path.suffix in (".zip", ".json")]) == len(USUAL)


@pytest.mark.no_cover  # many items made in the same way: twice the time where lines are counted
def test_rebuilt_byte_for_byte(tmp_path: Path) -> None:
    result = CliRunner().invoke(main, ["export", "--out", str(tmp_path)], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    for path in sorted(EXPORTS.glob("*.*")):
        same = (tmp_path / path.name).read_bytes() == path.read_bytes()
        assert same, f"{path.name} differs: run `qbank export` and look at what changed"
