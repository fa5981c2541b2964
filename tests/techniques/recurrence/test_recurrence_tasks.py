"""Tasks about a working that calls integrals by letters: shown without a constant too soon, and proved again from packages."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner

from qbank.bank.drawing import Stream
from qbank.cli import main
from qbank.items.tasks.faults import fault_task
from qbank.items.tasks.gaps import gap_task
from qbank.maths.conventions import DEFAULT
from qbank.maths.equation import Equation
from qbank.maths.notation import plain
from qbank.techniques.opening import opening_of
from qbank.techniques.recurrence.recurrence_formulae import TECHNIQUE
from tests.techniques.solving import solved

BANK = """
identifier: letters
title: Letters for integrals
language: en-GB
licence: CC-BY-4.0
authors: [The Saltmarrow mathematics room]
version: "1.0.0"
templates:
  - identifier: tangent
    title: The fourth power of a tangent
    technique: recurrence-formulae
    parameters:
      p: {kind: integer, from: 2, to: 30}
    integrand: p tan(x)^4
    responses: [complete-working, find-fault]
    marks: 4
"""


def test_the_constant_comes_when_no_integral_is_left() -> None:
    solution = solved(TECHNIQUE, "3tan(x)^4")
    for seed in "abc":
        stream = Stream(seed)
        tasks = (fault_task(solution, "C", stream), gap_task(solution, DEFAULT, 1, ("line",), 4, stream))
        for task in tasks:
            assert not isinstance(task, str)
            texts = [
                plain(one)
                for line in task.lines
                for one in line.row.statements
                if not isinstance(one, Equation)
            ]
            assert texts
            for text in texts:
                assert ("C" in text) != ("I_" in text or "∫" in text), text


def test_a_first_step_is_told_by_its_sentence() -> None:
    assert opening_of(solved(TECHNIQUE, "3tan(x)^4")) == (
        "Write n for the power: one formula then serves for every power.",
    )


def test_packages_are_proved_again(tmp_path: Path) -> None:
    bank, out = tmp_path / "letters.yaml", tmp_path / "out"
    bank.write_text(BANK, encoding="utf-8")
    run = CliRunner().invoke
    made = run(main, ["export", str(bank), "--to", "qti3", "--count", "6", "--out", str(out)])
    assert made.exit_code == 0, made.output
    (package,) = out.iterdir()
    checked = run(main, ["verify", str(package)])
    assert checked.exit_code == 0, checked.output
    assert "find fault" in checked.output
