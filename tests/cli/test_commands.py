"""The commands as a person calls them: output, exit codes, and how unusable input is reported."""

from __future__ import annotations

import json
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from qbank.cli import _COMMANDS, main
from qbank.cli import solve as solving
from qbank.marking import REMARKS
from qbank.maths.reading import read
from qbank.writers import WRITERS, what_formats_carry

SMALL = """
identifier: small
title: A small bank
language: en-GB
licence: CC0-1.0
version: "1.0.0"
templates:
  - identifier: sine-squared
    title: The square of a sine
    technique: even-powers
    parameters:
      p: {kind: integer, from: 2, to: 4}
      a: {kind: integer, from: 2, to: 4}
    integrand: p sin(a x)^2
    responses: [choice, free-expression]
  - identifier: between-limits
    title: Between limits
    technique: even-powers
    parameters:
      p: {kind: integer, from: 2, to: 6}
    task: definite
    limits: ["0", "pi/3"]
    integrand: p cos(2x)^2
"""


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(a) for a in arguments], catch_exceptions=False)


@pytest.fixture
def bank(tmp_path: Path) -> Path:
    path = tmp_path / "small.yaml"
    path.write_text(SMALL, encoding="utf-8")
    return path


@pytest.mark.parametrize("name", [*_COMMANDS, None])
def test_help(name: str | None) -> None:
    result = run(*([name] if name else []), "--help")
    assert result.exit_code == 0
    assert "Usage" in result.output
    if name:
        options = [line for line in result.output.splitlines() if line.strip().startswith("--")]
        assert options
        assert _COMMANDS[name] in run("--help").output


def test_an_unknown_command_or_option_is_unusable_input() -> None:
    assert run("integrate").exit_code == 2
    assert run("solve", "--fast", "x").exit_code == 2


def test_solve() -> None:
    result = run("solve", "sin(3x)^4")
    assert result.exit_code == 0
    assert "3/8 x - 1/12 sin 6x + 1/96 sin 12x + C" in result.output
    value = json.loads(run("solve", "sin(3x)^4", "--as", "json").output)
    assert value["technique"] == "even-powers"
    assert value["rows"][0]["kind"] == "start"
    assert run("solve", "sin(3x)^4", "--as", "latex").output.startswith(r"\begin{aligned}")
    assert "cos t" in run("solve", "sin(t)", "--variable", "t").output


def test_solve_in_every_way_that_fits() -> None:
    text = run("solve", "sin(x) cos(x)", "--all").output
    assert text.index("Substitution") < text.index("Odd powers of sine and cosine")
    values = json.loads(run("solve", "1/((x - 1)(x + 2))", "--all", "--as", "json").output)
    assert [value["technique"] for value in values] == ["quadratic-denominator", "partial-fractions"]
    latex = run("solve", "sin(x) cos(x)", "--all", "--as", "latex").output
    assert latex.count(r"\begin{aligned}") == 2
    assert run("solve", "x^x", "--all").exit_code == 1


def test_solve_says_plainly_that_no_technique_fits() -> None:
    for form in ("text", "latex", "json"):
        result = run("solve", "x^2 ln(x - 1)/(x - 1)^3", "--as", form)
        assert result.exit_code == 0
        assert "ln" in result.output
    assert "No technique fits" in run("solve", "x^2 ln(x - 1)/(x - 1)^3").output
    result = run("solve", "sin(sin x)")
    assert result.exit_code == 1
    assert "No technique fits" in result.output


def test_an_antiderivative_without_working_has_its_modulus_signs_or_says_where_it_is_real(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def proposed(text: str) -> None:
        monkeypatch.setattr(solving, "solve", lambda *_: None)
        monkeypatch.setattr(solving, "propose_antiderivative", lambda *_: read(text).tree)

    proposed("ln(x - 1)")
    assert "ln|x - 1|" in run("solve", "1/(x - 1)").output
    proposed("-2 sqrt(x) sqrt(x)")
    result = run("solve", "-2")
    assert "no real value on a part of the domain" in result.output
    proposed("2 ln(sqrt(x))")
    assert json.loads(run("solve", "1/x", "--as", "json").stdout)["undefined_at"]


def test_solve_with_unreadable_input() -> None:
    result = run("solve", "sin(3x")
    assert result.exit_code == 2
    assert "^" in result.output
    assert "hint" in result.output


def test_what_cannot_be_read_is_shown_in_part_and_no_hint_is_left_empty() -> None:
    result = run("solve", "x + " * 3000 + "1")
    assert result.exit_code == 2
    assert "hint: write a shorter expression" in result.stderr
    assert max(map(len, result.stderr.splitlines())) < 200
    assert "hint" not in run("solve", "").stderr


def test_check(bank: Path) -> None:
    result = run("check", bank, "--sample", "3")
    assert result.exit_code == 0, result.output
    assert "2 templates, 6 of 6 clones proved" in result.output
    result = run("check", bank, "--all")
    assert "14 of 14 clones proved" in result.output


def test_check_finds_problems(tmp_path: Path) -> None:
    path = tmp_path / "poor.yaml"
    path.write_text(SMALL.replace("even-powers", "odd-powers", 1), encoding="utf-8")
    result = run("check", path, "--sample", "2")
    assert result.exit_code == 1
    assert "does not fit" in result.output


def test_a_bank_with_faults_lists_them_all(tmp_path: Path) -> None:
    path = tmp_path / "faulty.yaml"
    path.write_text(SMALL.replace("p sin(a x)^2", "p sin(a x").replace("CC0-1.0", "C C"), encoding="utf-8")
    for command in (["check"], ["export"], ["draw", "--template", "sine-squared"]):
        result = run(command[0], path, *command[1:])
        assert result.exit_code == 2
        assert "faulty.yaml:5:10" in result.output
    assert run("check", tmp_path / "none.yaml").exit_code == 2


def test_draw(bank: Path) -> None:
    result = run("draw", bank, "--template", "sine-squared", "--count", "2", "--seed", "4")
    assert result.exit_code == 0
    assert "[key]" in result.output
    assert "double-angle" in result.output
    lines = run(
        "draw", bank, "--template", "sine-squared", "--count", "2", "--as", "json"
    ).output.splitlines()
    assert [json.loads(line)["template"] for line in lines] == ["sine-squared"] * 2


def test_draw_names_a_near_template(bank: Path) -> None:
    result = run("draw", bank, "--template", "sine-square")
    assert result.exit_code == 2
    assert "sine-squared" in result.output


def test_asking_for_more_than_there_is(bank: Path, tmp_path: Path) -> None:
    result = run("draw", bank, "--template", "sine-squared", "--count", "10")
    assert result.exit_code == 2
    assert "gives 9 different clones, 10 were asked for" in result.output
    result = run("export", bank, "--count", "10", "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert not list((tmp_path / "out").glob("*")), "a failed export leaves nothing behind"


def test_export(bank: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = run("export", bank, "--count", "4", "--out", out)
    assert result.exit_code == 0, result.output
    assert result.output.split() == [str(out / "small-qti3.zip"), str(out / "small-json.json")]
    before = {path.name: path.read_bytes() for path in out.iterdir()}
    assert run("export", bank, "--count", "4", "--out", out).exit_code == 0
    assert {path.name: path.read_bytes() for path in out.iterdir()} == before
    with zipfile.ZipFile(out / "small-qti3.zip") as package:
        assert package.testzip() is None
        assert "imsmanifest.xml" in package.namelist()
    assert len(json.loads(before["small-json.json"])["items"]) == 8


def test_draws_passed_over_are_told(tmp_path: Path) -> None:
    path = tmp_path / "zeros.yaml"
    # with p = 2 the limits are equal
    text = SMALL.replace('limits: ["0", "pi/3"]', 'limits: ["0", "(p - 2) pi"]')
    path.write_text(text, encoding="utf-8")
    result = run("draw", path, "--template", "between-limits", "--count", "4")
    assert result.exit_code == 0, result.output
    assert result.output.count("1 draw passed over, others taken: the value is zero") == 1
    out = run("export", path, "--template", "between-limits", "--count", "4", "--out", tmp_path)
    assert out.output.count("1 draw passed over") == 1, out.output
    checked = run("check", path, "--all")
    assert checked.exit_code == 0, checked.output
    assert (
        "between-limits: 1 passed over: the value is zero, which has no significant figures" in checked.output
    )
    assert checked.output.splitlines()[-1].endswith("clones proved, 1 passed over")


def test_dealing_more_than_there_is(bank: Path, tmp_path: Path) -> None:
    result = run("export", bank, "--count", "2", "--pick", "3", "--out", tmp_path)
    assert result.exit_code == 2
    assert "--pick 3" in result.output


def test_export_does_not_overwrite_what_it_did_not_write(bank: Path, tmp_path: Path) -> None:
    mine = tmp_path / "small-json.json"
    mine.write_text('{"mine": true}', encoding="utf-8")
    result = run("export", bank, "--to", "json", "--count", "1", "--out", tmp_path)
    assert result.exit_code == 2
    assert "--force" in result.output
    assert mine.read_text(encoding="utf-8") == '{"mine": true}'
    assert run("export", bank, "--to", "json", "--count", "1", "--out", tmp_path, "--force").exit_code == 0


def test_mark_one_response() -> None:
    result = run("mark", "--integrand", "cos(x)^3", "sin x - sin^3 x/3 + C", "--json")
    assert result.exit_code == 0
    value = json.loads(result.output)
    assert (value["verdict"], value["score"], value["slip"]) == ("correct", 1.0, None)
    # `sin^3 x/3` can be read with the x/3 inside; the reader says which reading it took
    assert [remark["identifier"] for remark in value["remarks"]] == ["ambiguous-notation"]
    assert value["read_as"]
    text = run("mark", "--integrand", "sin(3x)^2", "x/2 + 1/12 sin 6x").output
    assert "incorrect" in text
    assert "double-angle-sign" in text
    assert "missing-constant" in run("mark", "--integrand", "2x", "x^2").output
    assert "unreadable" in run("mark", "--integrand", "2x", "x^2 + (").output


def test_mathematics_may_begin_with_a_minus_sign() -> None:
    assert "correct" in run("mark", "--integrand", "-sinh x", "-cosh x + C").output
    assert "3x" in run("solve", "-sin(3x)^3").output
    assert run("mark", "--integrand", "x", "--fast", "x").exit_code == 2


def test_mark_other_variables_domains_and_values() -> None:
    assert "correct" in run("mark", "--integrand", "2t", "--variable", "t", "t^2 + C").output
    value = run("mark", "--integrand", "tan x", "--domain", "0,pi/2", "-ln(cos x) + C", "--json").output
    assert json.loads(value)["remarks"] == []
    definite = ("--answer-kind", "definite", "--lower", "0", "--upper", "pi/2")
    assert "correct" in run("mark", "--integrand", "cos(x)", *definite, "1").output
    decimal = (
        "mark",
        "--integrand",
        "1/x",
        "--answer-kind",
        "definite",
        "--lower",
        "1",
        "--upper",
        "2",
        "--json",
    )
    assert json.loads(run(*decimal, "0.693").output)["score"] == 1
    assert (
        json.loads(run(*decimal, "--figures", "4", "0.693").output)["remarks"][0]["identifier"]
        == "too-few-figures"
    )
    exact = json.loads(run(*decimal, "--credit", "exact=1/4", "0.693").output)
    assert (exact["score"], exact["message"]) == (0.25, REMARKS["exact-value-wanted"])
    evaluation = ("--answer-kind", "evaluation", "--lower", "1", "--given", "5", "--upper", "3")
    assert "correct" in run("mark", "--integrand", "2x", *evaluation, "13").output
    comma = run("mark", "--integrand", "2,5x", "--decimal", "comma", "--json", "1,25x^2 + C").output
    assert json.loads(comma)["verdict"] == "correct"


@pytest.mark.parametrize(
    "arguments",
    [
        ("--integrand", "2x +", "x"),
        ("--integrand", "x", "--domain", "0", "x"),
        ("--integrand", "x", "--domain", "0,(", "x"),
        ("--integrand", "x", "--answer-kind", "definite", "1"),
        ("--integrand", "x", "--lower", "0", "1"),
        ("--integrand", "t^2", "t^3/3 + C"),
        ("--integrand", "x", "--variable", "2", "x"),
        ("--integrand", "1/x", "--answer-kind", "definite", "--lower=-1", "--upper", "1", "0"),
        ("no-such-file.csv",),
        ("no-such-file.csv", "--out", "marks.csv"),
    ],
)
def test_mark_with_unusable_input(
    arguments: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run("mark", *arguments)
    assert result.exit_code == 2
    assert result.output


def test_mark_a_table(tmp_path: Path) -> None:
    source, out = tmp_path / "responses.csv", tmp_path / "marks.csv"
    source.write_text("\ufeffname,integrand,response\nA,2x,x^2 + C\nB,2x,x\nC,(,x\n", encoding="utf-8")
    result = run("mark", source, "--out", out)
    assert result.exit_code == 1, "one row has no usable question"
    rows = out.read_text(encoding="utf-8").splitlines()
    assert len(rows) == 4
    assert rows[1].startswith("A,2x,x^2 + C,correct,1")
    assert run("mark", source, "--out", out).exit_code == 2, "what is there is not overwritten"
    assert run("mark", source, "--out", out, "--force").exit_code == 1
    source.write_text("a;b\n1;2\n", encoding="utf-8")
    assert run("mark", source, "--out", out, "--force").exit_code == 2
    assert len(out.read_text(encoding="utf-8").splitlines()) == 4, "a failed run loses nothing"
    source.write_bytes(b"integrand,response\nx,\xff\x81\n")
    assert run("mark", source, "--out", out, "--force").exit_code == 2


def test_the_list_of_formats(tmp_path: Path) -> None:
    result = run("export", "--list", "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    for name, writer in WRITERS.items():
        assert f"{name}: {writer.title}\n" in result.output
    assert "\n".join(what_formats_carry()) in result.output
    assert not (tmp_path / "out").exists()


def test_what_a_format_cannot_carry_is_said(
    bank: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Response forms that the bank does not have are not missed; every other feature is."""
    poor = replace(
        WRITERS["json"],
        carries=frozenset({"choice"}),
        instead={"numeric": "a list of spellings", "choice": "a box", "spoken": "nothing"},
    )
    monkeypatch.setattr("qbank.cli.export.WRITERS", {**WRITERS, "json": poor})
    result = run(
        "export", bank, "--to", "json", "--count", "1", "--template", "sine-squared", "--out", tmp_path
    )
    assert result.exit_code == 0
    assert "written instead: a box" in result.output
    assert "written instead: nothing" in result.output
    assert "spellings" not in result.output
