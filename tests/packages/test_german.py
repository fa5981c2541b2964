"""A package in German: accuracy, first steps and lines are read back from German words, and results are marked in German."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from qbank.cli.arguments import open_bank
from qbank.items.cloning import clones
from qbank.items.deck import Deck, Section
from qbank.items.decking import deck_of
from qbank.items.item import Item
from qbank.marking.entry import mark_entry
from qbank.packages.results import questions_of, result_rows
from qbank.packages.verifying import verify
from qbank.writers import WRITERS, save
from tests.cli.test_shipped import LIBRARY


@cache
def deck() -> Deck:
    bank = open_bank(LIBRARY / "saltmarrow-deutsch.yaml")
    return deck_of(
        bank,
        3,
        tuple(
            Section(
                template=template.identifier,
                title=template.title,
                items=tuple(clones(bank, template, len(template.responses), 3)),
            )
            for template in bank.templates
        ),
        source=None,
    )


def items() -> dict[str, Item]:
    return {item.form: item for section in deck().sections for item in section.items}


@pytest.mark.parametrize("name", ["qti3", "cc", "json"])
def test_it_is_verified(name: str, tmp_path: Path) -> None:
    report = verify(save(WRITERS[name], deck(), tmp_path / f"package.{'json' if name == 'json' else 'zip'}"))
    assert report.problems == []


RESULT = """<assessmentResult xmlns="http://www.imsglobal.org/xsd/imsqti_result_v3p0"><context sourcedId="s"/>
<itemResult identifier="{item}" datestamp="2026-01-01T00:00:00" sessionStatus="final"><responseVariable
identifier="RESPONSE" cardinality="single" baseType="string"><candidateResponse><value>{response}</value>
</candidateResponse></responseVariable></itemResult></assessmentResult>"""


@pytest.mark.parametrize(("stated", "message"), [(None, "Richtig."), ("en", "Right.")])
def test_results_are_marked_in_its_language(stated: str | None, message: str, tmp_path: Path) -> None:
    package = save(WRITERS["qti3"], deck(), tmp_path / "package.zip")
    questions = questions_of(package)
    results = tmp_path / "result.xml"

    def marks(form: str, response: str) -> str:
        text = RESULT.format(item=items()[form].identifier, response=response)
        results.write_text(text, encoding="utf-8")
        (row,) = result_rows(results, questions, language=stated)
        return (mark_entry(row.entry) if row.entry is not None else row.unmarked()).message

    numeric = items()["numeric"].response
    assert marks("numeric", numeric.decimal) == message  # type: ignore[union-attr]  # by its form
    wrong = marks("free-expression", "x +")
    assert wrong.startswith("Das lässt sich nicht lesen: " if stated is None else "This cannot be read: ")
