"""`exports/` holds what the README's command writes: the shipped bank, byte for byte."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from qbank.cli import main
from qbank.writers import USUAL

EXPORTS = Path(__file__).resolve().parent.parent / "exports"


@pytest.fixture(scope="module")
def rebuilt(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("exports")
    result = CliRunner().invoke(main, ["export", "--out", str(folder)], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return folder


def test_every_usual_format_is_there() -> None:
    assert len([path for path in EXPORTS.iterdir() if path.suffix in (".zip", ".json")]) == len(USUAL)


@pytest.mark.parametrize("path", sorted(EXPORTS.glob("*.*")), ids=lambda path: path.name)
def test_rebuilt_byte_for_byte(path: Path, rebuilt: Path) -> None:
    same = (rebuilt / path.name).read_bytes() == path.read_bytes()
    assert same, f"{path.name} differs: run `qbank export` and look at what changed"
