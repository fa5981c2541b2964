"""`qbank solve` with limits: the way taught first, all ways, digits where no way fits, and what is refused."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner, Result

from qbank.cli import main


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["solve", *arguments])


def test_the_way_taught_first() -> None:
    text = run("x/(x^2+1)", "--from", "0", "--to", "2").output
    assert text.startswith("Substitution with the limits changed")
    assert "x = 0 gives u = 1, and x = 2 gives u = 5" in text
    assert text.rstrip().splitlines()[-1].startswith("  = 1/2 ln 5")


def test_every_way_and_json() -> None:
    values = json.loads(run("abs(x)", "--from", "-1", "--to", "1", "--all", "--as", "json").output)
    assert [value["way"] for value in values][:2] == ["even-symmetry", "absolute-value"]
    assert {value["value"] for value in values} == {"1"}
    assert values[0]["rows"][-1]["plain"] == ["1"]
    assert "\\lim" in run("e^(-x)", "--from", "0", "--to", "infinity", "--as", "latex").output


@pytest.mark.parametrize(
    ("form", "part"), [("text", "0.7468241328"), ("json", '"way": null'), ("latex", "0.7468")]
)
def test_digits_where_no_way_fits(form: str, part: str) -> None:
    # erf(1) sqrt(pi)/2, to be found in any table of the error function
    result = run("e^(-x^2)", "--from", "0", "--to", "1", "--as", form)
    assert result.exit_code == 0
    assert part in result.output


def test_what_diverges_has_no_value() -> None:
    result = run("1/x^2", "--from", "-1", "--to", "1")
    assert result.exit_code == 1
    assert "diverges" in result.stderr


@pytest.mark.parametrize("limits", [("--from", "0"), ("--to", "1"), ("--from", "x", "--to", "1")])
def test_limits_come_in_pairs_and_are_numbers(limits: tuple[str, ...]) -> None:
    assert run("x", *limits).exit_code == 2
