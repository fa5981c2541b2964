"""Declared tests and their forms in every format: the same sections, items and totals, read back from the files."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from qbank.bank.schema import document_faults
from qbank.items.deck import Deck, Paper, Part
from qbank.items.sharing import parallel_forms
from qbank.packages.verifying import verify
from qbank.writers import WRITERS, Options, save
from tests.items.sitting import deck
from tests.writers.sample_items import deck as sample_deck
from tests.writers.sample_items import every_section
from tests.writers.validating import validate

FORMS = 3
QTI = ("qti3", "qti22", "qti21")

every_way = pytest.mark.parametrize("forms", [None, FORMS], ids=["pools", "forms"])


@cache
def files(name: str, forms: int | None) -> dict[str, bytes]:
    return written(deck(forms=forms), name)


def written(one: Deck, name: str, options: Options | None = None) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for artifact in WRITERS[name].write(one, options or Options()):
        found[artifact.path] = found.get(artifact.path, b"") + artifact.data
    return found


def word(element: Any) -> str:
    """An element's name in all generations alike: `qti-item-body` and `itemBody` are `itembody`."""
    name = etree.QName(element).localname
    return name.removeprefix("qti-").replace("-", "").lower()


def values(element: Any) -> dict[str, str]:
    return {str(name).replace("-", "").lower(): str(value) for name, value in element.attrib.items()}


def inside(root: Any, *names: str) -> Iterator[Any]:
    return (element for element in root.iter("*") if word(element) in names)


def below(root: Any, *names: str) -> list[Any]:
    return [element for element in root if word(element) in names]


def marks_of(paper: Paper) -> dict[str, int]:
    return {item.identifier: item.marks for section in paper.sections for item in section.items}


@pytest.mark.reference
@every_way
@pytest.mark.parametrize("name", [name for name in WRITERS if name != "json"])
def test_valid_against_the_standards_schemas(
    name: str, forms: int | None, shared: Path, tmp_path: Path
) -> None:
    validate(shared, save(WRITERS[name], deck(forms=forms), tmp_path / "p.zip"))


@every_way
@pytest.mark.parametrize("name", QTI)
def test_qti(name: str, forms: int | None) -> None:
    """Names after the standard's test model: QTI 3.0 Assessment, Section and Item, 2022; 2.1, 2012, alike."""
    papers = deck(forms=forms).papers
    tests = [path for path in files(name, forms) if path.startswith("test")]
    assert len(tests) == len(papers)
    for path, paper in zip(tests, papers, strict=True):
        root = etree.fromstring(files(name, forms)[path])
        assert values(root)["title"] == paper.title
        (limits,) = below(root, "timelimits")
        assert values(limits)["maxtime"] == str(25 * 60)
        declared = {
            values(one)["identifier"]: "".join(one.itertext()).strip()
            for one in below(root, "outcomedeclaration")
        }
        assert declared == {"SCORE": "0", "MAXSCORE": str(paper.marks)}
        (rubric,) = inside(root, "rubricblock")
        assert "".join(rubric.itertext()).strip() == "Read <i>this</i> first."
        assert values(rubric)["view"] == "candidate"
        sections = [one for part in below(root, "testpart") for one in below(part, "assessmentsection")]
        assert [values(one)["title"] for one in sections] == [part.title for part in paper.parts]
        for element, part in zip(sections, paper.parts, strict=True):
            holders = below(element, "assessmentsection") or [element]
            assert sum(map(most, holders)) == sum(
                len(tuple(one.items)) if one.pick is None else one.pick for one in part.sections
            )
            assert sum(most(one) * item_marks(name, forms, one) for one in holders if most(one)) == part.marks
            for ordering in inside(element, "ordering"):
                assert values(ordering)["shuffle"] == ("true" if part.shuffle else "false")
            named = [values(one)["identifier"] for one in inside(element, "assessmentitemref")]
            assert named == [item.identifier for one in part.sections for item in one.items]
            for pool in below(element, "assessmentsection"):
                assert (values(pool)["visible"], values(pool)["keeptogether"]) == ("false", "false")


def most(section: Any) -> int:
    """How many items a section gives, all of which have the same marks where it deals or are looked at together."""
    references = below(section, "assessmentitemref")
    selections = below(section, "selection")
    return int(values(selections[0])["select"]) if selections else len(references)


def item_marks(name: str, forms: int | None, section: Any) -> float:
    """The mean of the marks that the items of a section say of themselves."""
    marks = []
    for reference in below(section, "assessmentitemref"):
        item = etree.fromstring(files(name, forms)[values(reference)["href"]])
        (declared,) = [
            one for one in below(item, "outcomedeclaration") if values(one)["identifier"] == "MAXSCORE"
        ]
        marks.append(int("".join(declared.itertext())))
    if below(section, "selection"):
        assert len(set(marks)) == 1, "all students get the same marks, whatever they are dealt"
    return sum(marks) / len(marks)


@every_way
def test_qti12(forms: int | None) -> None:
    papers = deck(forms=forms).papers
    documents = [data for path, data in files("qti12", forms).items() if b"<assessment " in data]
    assert len(documents) == len(papers)
    for data, paper in zip(documents, papers, strict=True):
        (test,) = etree.fromstring(data)
        assert test.get("title") == paper.title
        # order of the parts of an assessment in QTI 1.2 (2002), from memory
        assert [word(one) for one in test][:3] == ["duration", "rubric", "outcomes_processing"]
        assert test.findtext("duration") == "PT25M"
        assert test.findtext("rubric/material/mattext") == "Read <i>this</i> first."
        (total,) = inside(test, "outcomes_processing")
        assert next(inside(total, "decvar")).get("maxvalue") == str(paper.marks)
        sections = below(test, "section")
        assert [one.get("title") for one in sections] == [part.title for part in paper.parts]
        for element, part in zip(sections, paper.parts, strict=True):
            pools = below(element, "section")
            assert [one.findtext("selection_ordering/selection/selection_number") for one in pools] == (
                [str(section.pick) for section in part.sections] if forms is None else []
            )
            rules = {one.get("order_type") for one in inside(element, "order")}
            assert rules == {"Random" if part.shuffle else "Fixed"}
            idents = [one.get("ident") for one in inside(element, "item")]
            assert idents == [item.identifier for one in part.sections for item in one.items]


@every_way
def test_cartridges(forms: int | None) -> None:
    """Labels of the metadata after the schema of the profile (its rules 1g and 1h); no choice, no sections."""
    one = deck(forms=forms)
    papers = one.papers if forms else parallel_forms(one.papers[0])
    documents = [data for path, data in files("cc", forms).items() if path.startswith("tests/")]
    assert len(documents) == len(papers)
    totals: set[int] = set()
    seen: set[str | None] = set()
    for data, paper in zip(documents, papers, strict=True):
        (test,) = etree.fromstring(data)
        labels = dict(zip(texts(test[0], "fieldlabel"), texts(test[0], "fieldentry"), strict=True))
        assert labels["qmd_timelimit"] == "25"
        (section,) = inside(test, "section")
        items = below(section, "item")
        weights = [
            int(dict(zip(texts(item, "fieldlabel"), texts(item, "fieldentry"), strict=True))["cc_weighting"])
            for item in items
        ]
        totals.add(sum(weights))
        assert sum(weights) == paper.marks == one.papers[0].marks
        identifiers = {item.get("ident") for item in items}
        assert not identifiers & seen, "no clone is shared between forms"
        seen |= identifiers
    assert len(totals) == 1


def texts(element: Any, name: str) -> list[str]:
    return [one.text or "" for one in inside(element, name)]


def test_a_cartridge_as_a_bank_holds_every_clone_of_a_test() -> None:
    data = written(deck(), "cc", Options(purpose="bank"))["bank.xml"]
    idents = [one.get("ident") for one in inside(etree.fromstring(data), "item")]
    assert idents == [item.identifier for one in deck().sections for item in one.items]


@every_way
def test_json(forms: int | None) -> None:
    (data,) = files("json", forms).values()
    document = json.loads(data)
    assert not list(document_faults(document))
    papers = deck(forms=forms).papers
    items = {item["identifier"]: item for item in document["items"]}
    assert len(document["tests"]) == len(papers)
    for test, paper in zip(document["tests"], papers, strict=True):
        assert (test["marks"], test["minutes"], test["form"]) == (paper.marks, 25, paper.form or None)
        named = [name for part in test["sections"] for pool in part["pools"] for name in pool["items"]]
        assert named == list(marks_of(paper))
        assert {name: items[name]["marks"] for name in named} == marks_of(paper)
        assert sum(part["marks"] for part in test["sections"]) == test["marks"]


@every_way
@pytest.mark.parametrize("name", ["qti3", "qti21", "json"])
def test_packages_of_tests_are_verified(name: str, forms: int | None, tmp_path: Path) -> None:
    path = save(WRITERS[name], deck("hard", forms=forms), tmp_path / f"p{WRITERS[name].suffix}")
    report = verify(path)
    assert report.problems == []
    assert sum(row.items for row in report.rows.values()) == len(
        [item for section in deck("hard", forms=forms).sections for item in section.items]
    )


def by_hand() -> Deck:
    """A declared test of items made by hand, so that the goldens change with the writers alone."""
    parts = (
        Part(
            identifier="1",
            title="Starter",
            marks=2,
            rising=False,
            shuffle=True,
            sections=tuple(
                replace(section, pick=1, name=f"1_{section.template}") for section in every_section()[:2]
            ),
        ),
        Part(
            identifier="2",
            title="Quiz",
            marks=3,
            rising=True,
            shuffle=False,
            sections=(replace(every_section()[2], name="2_free"),),
        ),
    )
    paper = Paper(
        identifier="test-powers-all",
        form="",
        title="Powers, a test",
        instructions="Answer all.",
        minutes=40,
        parts=parts,
    )
    return sample_deck(*paper.sections, papers=(paper,))


@pytest.mark.parametrize("name", ["qti3", "qti22", "qti12", "cc"])
def test_golden(name: str, update_goldens: bool) -> None:
    found = written(by_hand(), name)
    path = next(path for path in found if path in ("test.xml", "questions.xml", "tests/a.xml"))
    root = etree.fromstring(found[path])
    # the items themselves are held to by other goldens
    for item in list(inside(root, "item")):
        item[:] = []
        item.text = None
    text = etree.tostring(root, encoding="unicode") + "\n"
    golden = Path(__file__).parents[1] / "golden" / "papers" / f"{name}.xml"
    if update_goldens:
        golden.parent.mkdir(exist_ok=True)
        golden.write_text(text, encoding="utf-8")
    assert text == golden.read_text(encoding="utf-8"), "run pytest --update-goldens, and read what it wrote"


@pytest.mark.parametrize("name", list(WRITERS))
def test_texts_of_a_test_stay_texts(name: str) -> None:
    hostile = "<script>alert(1)</script> ]]> & \x00 \x1b \u202e \ud800 \" '"
    (paper,) = by_hand().papers
    parts = tuple(replace(part, title=hostile) for part in paper.parts)
    worse = replace(paper, title=hostile, instructions=hostile, parts=parts)
    found = written(replace(by_hand(), papers=(worse,)), name)
    harmless = written(by_hand(), name)
    assert found.keys() == harmless.keys()
    for path, data in found.items():
        assert b"\x00" not in data
        assert b"\x1b" not in data
        if path.endswith(".xml"):
            tags = [element.tag for element in etree.fromstring(data).iter()]
            assert tags == [element.tag for element in etree.fromstring(harmless[path]).iter()]


def digest() -> str:
    """One line that stands for all bytes of a test, as pools and as forms, in all formats."""
    parts = [written(deck("hard", forms=forms), name) for forms in (None, 2) for name in WRITERS]
    return hashlib.sha256(repr(parts).encode()).hexdigest()


def test_the_same_bytes_in_another_process() -> None:
    code = "from tests.writers.test_papers import digest; print(digest())"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
        cwd=Path(__file__).parents[2],
        env={**os.environ, "PYTHONHASHSEED": "4", "TZ": "Asia/Kathmandu"},
    )
    assert done.stdout.strip() == digest()
