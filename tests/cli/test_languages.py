"""Languages on the command line: which one is spoken, and that another is said to be missing."""

from __future__ import annotations

import csv
from pathlib import Path

from click.testing import CliRunner

from qbank.cli import main

BANK = """
identifier: small
title: A bank
language: {language}
licence: CC0-1.0
version: "1.0.0"
templates:
  - identifier: squares
    title: Squares
    technique: even-powers
    parameters: {{p: {{kind: integer, from: 2, to: 9}}}}
    integrand: p sin(2x)^2
"""


def run(*arguments: str) -> str:
    result = CliRunner().invoke(main, list(arguments))
    assert result.exit_code == 0, result.output
    return result.output


def test_a_language_that_is_not_spoken_is_said(tmp_path: Path) -> None:
    bank = tmp_path / "bank.yaml"
    for language, said in (("cy", True), ("en-AU", False), ("de-CH", False)):
        bank.write_text(BANK.format(language=language), encoding="utf-8")
        output = run("check", str(bank), "--sample", "1")
        assert (f"language {language}: items say their own sentences in English" in output) == said
        assert ("there are en, de" in output) == said


def test_an_unspoken_language_is_english(tmp_path: Path) -> None:
    bank = tmp_path / "bank.yaml"
    bank.write_text(BANK.format(language="cy"), encoding="utf-8")
    assert "Find ∫" in run("draw", str(bank), "--template", "squares", "--count", "1")


def test_marks_in_a_language(tmp_path: Path) -> None:
    asked = ("mark", "--integrand", "cos(3x)", "sin(3x)/3")
    missing = "Die Antwort ist richtig bis auf die Integrationskonstante, die fehlt."
    assert missing in run(*asked, "--language", "de-AT")
    assert "The answer is right up to the constant" in run(*asked)
    table, marked = tmp_path / "responses.csv", tmp_path / "marks.csv"
    rows = "integrand,response\ncos(3x),sin(3x)/3\ncos(3x),\ncos(3x),(x\n"
    table.write_text(rows, encoding="utf-8")
    run("mark", str(table), "--out", str(marked), "--language", "de")
    with marked.open(encoding="utf-8", newline="") as lines:
        messages = [row["message"] for row in csv.DictReader(lines)]
    assert messages == [
        missing,
        "Es ist keine Antwort da.",
        "Das lässt sich nicht lesen: die Klammer ( wird nie geschlossen; ergänze ).",
    ]
