"""Show that a definite integral has a value: the question, the marking guide, and the package read back."""

from __future__ import annotations

from pathlib import Path

import pytest

from qbank.bank.loading import parse_bank
from qbank.bank.problem import BankError
from qbank.items.decking import deal
from qbank.items.item import FreeExpression, Item
from qbank.maths.expression import Expression, Integral
from qbank.packages.results import questions_of, result_rows
from qbank.packages.verifying import verify
from qbank.writers import WRITERS, save

BANK = """
identifier: shown
title: Shown values
language: en-GB
licence: CC0-1.0
authors: [The Saltmarrow mathematics room]
version: "1.0.0"
templates:
  - identifier: logarithm
    title: A logarithm
    technique: limits-changed
    task: definite
    parameters: {a: {kind: integer, from: 2, to: 9}}
    integrand: x/(x^2 + a)
    limits: ["0", "1"]
    responses: [show-that]
    marks: 4
"""


def item() -> Item:
    deck = deal(parse_bank(BANK.encode(), "bank.yaml"), count=1, seed=1)
    return next(iter(deck.sections[0].items))


def test_the_question_gives_the_value_and_the_guide_the_lines() -> None:
    shown = item()
    assert shown.form == "show-that"
    integral, value = (piece for piece in shown.prompt if isinstance(piece, Expression))
    assert isinstance(integral, Integral)
    assert value == shown.key
    assert isinstance(shown.response, FreeExpression)
    statements = {statement for row in shown.working if row.reason for statement in row.statements}
    assert statements <= set(shown.response.rubric)


def written(folder: Path, target: str) -> Path:
    writer = WRITERS[target]
    deck = deal(parse_bank(BANK.encode(), "bank.yaml"), count=2, seed=1)
    return save(writer, deck, folder / writer.file_name(deck))


@pytest.mark.parametrize("target", ["qti3", "qti21", "qti12", "json"])
def test_the_value_is_proved_from_the_package(tmp_path: Path, target: str) -> None:
    report = verify(written(tmp_path, target))
    assert report.sound
    assert {name: (row.items, row.agreeing) for name, row in report.rows.items()} == {
        "show that, definite integral": (2, 2)
    }


def test_a_response_is_for_a_person(tmp_path: Path) -> None:
    """The value is given, so that typing it earns nothing by itself."""
    questions = questions_of(written(tmp_path, "qti3"))
    name = next(iter(questions))
    (tmp_path / "results.xml").write_text(
        '<assessmentResult xmlns="http://www.imsglobal.org/xsd/imsqti_result_v3p0">'
        f'<itemResult identifier="{name}" datestamp="2026-01-01T00:00:00Z" sessionStatus="final">'
        '<responseVariable identifier="RESPONSE" cardinality="single" baseType="string">'
        "<candidateResponse><value>1/2 ln 2</value></candidateResponse></responseVariable>"
        "</itemResult></assessmentResult>",
        encoding="utf-8",
    )
    (row,) = result_rows(tmp_path / "results.xml", questions)
    assert "marked by a person" in row.problem
    assert row.entry is None


def test_an_antiderivative_is_not_shown_so() -> None:
    with pytest.raises(BankError, match="definite integral"):
        parse_bank(
            BANK.replace("    task: definite\n", "").replace('    limits: ["0", "1"]\n', "").encode(), "b"
        )
