"""The package as a whole: against the standard's schemas, its references, hostile texts and identifiers."""

from __future__ import annotations

import subprocess
import sys
import tracemalloc
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from qbank.items.deck import Deck, Section
from qbank.items.item import Choice, Item
from qbank.maths.expression import cos
from qbank.writers.archive import write_zip
from qbank.writers.qti import package
from tests.writers.sample_items import X, cosine_power, deck, definite_power, every_section, free_cosine

HOSTILE = (
    "<script>alert(1)</script>",
    "]]> &amp; & < > \" ' `",
    "nul \x00 bell \x07 escape \x1b",
    "left \u202e thgir",
    "\ud800 lone surrogate, \uffff no character",
    "long " * 2000,
    "line\nbreak\tand tab",
    "<!-- --> <?x?> <![CDATA[ %x; &x;",
)


def validate(shared: Path, *paths: Path) -> None:
    done = subprocess.run(
        [sys.executable, str(shared / "standards" / "validate.py"), *map(str, paths)],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout.rstrip().endswith(" 0 invalid")


def hostile_item(number: int, text: str) -> Item:
    item = cosine_power(2)
    assert isinstance(item.response, Choice)
    options = tuple(replace(one, feedback=(text, cos(X), text)) for one in item.response.options)
    return replace(
        item,
        identifier=f"hostile-{number}",
        template="hostile",
        title=text,
        tags=(text,),
        prompt=(text, cos(X), text),
        working=tuple(replace(row, reason=text) for row in item.working),
        response=Choice(options=options),
    )


def hostile_deck() -> Deck:
    items = tuple(hostile_item(number, text) for number, text in enumerate(HOSTILE))
    joined = " ".join(HOSTILE)
    section = Section(template="hostile", title=joined, items=items)
    return deck(section, title=joined, authors=HOSTILE, version=joined, licence=HOSTILE[1], seed=joined)


def members(sample: Deck) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for artifact in package(sample):
        found[artifact.path] = found.get(artifact.path, b"") + artifact.data
    return found


@pytest.mark.reference
def test_valid_against_the_standards_schemas(shared: Path, tmp_path: Path) -> None:
    validate(shared, write_zip(package(deck()), tmp_path / "p.zip"))


@pytest.mark.reference
def test_hostile_texts_are_valid_too(shared: Path, tmp_path: Path) -> None:
    validate(shared, write_zip(package(hostile_deck()), tmp_path / "p.zip"))


@pytest.mark.parametrize("number", range(len(HOSTILE)))
def test_hostile_texts_stay_texts(number: int) -> None:
    """No element comes of a text: the document has the elements of the same item with a harmless text."""
    files = members(hostile_deck())
    path = f"items/hostile/hostile-{number}.xml"
    plain = members(deck(Section(template="hostile", title="t", items=(hostile_item(number, "text"),))))
    tags = [element.tag for element in etree.fromstring(files[path]).iter()]
    assert tags == [element.tag for element in etree.fromstring(plain[path]).iter()]
    assert b"<script" not in files[path]
    assert b"\x00" not in files[path]


def test_order_of_members_and_their_names() -> None:
    paths = list(members(deck()))
    assert paths[0] == "items/cosine-cubed/powers-cosine-2.xml"
    assert paths[-2:] == ["test.xml", "imsmanifest.xml"]


def test_sections_of_the_test() -> None:
    test = etree.fromstring(members(deck())["test.xml"])
    sections = test.findall(".//{*}qti-assessment-section")
    assert [section.get("identifier") for section in sections] == [
        f"section-{section.template}" for section in every_section()
    ]
    for section, written in zip(every_section(), sections, strict=True):
        selection = written.find("{*}qti-selection")
        assert (selection is None) == (section.pick is None)
        assert selection is None or selection.get("select") == "1"
        ordering = written.find("{*}qti-ordering")
        assert ordering is not None
        assert ordering.get("shuffle") == "true"
        references = [one.get("identifier") for one in written.iterfind("{*}qti-assessment-item-ref")]
        assert references == [item.identifier for item in section.items]


def test_nothing_is_shuffled_unless_wanted() -> None:
    files = members(deck(shuffle=False))
    assert b'shuffle="true"' not in b"".join(files.values())
    assert b'shuffle="true"' in b"".join(members(deck()).values())


def test_a_section_cannot_deal_more_than_it_has() -> None:
    section = Section(template="cosine-cubed", title="t", items=(cosine_power(2),), pick=2)
    with pytest.raises(ValueError, match="2 items are to be dealt, but there are 1"):
        list(package(deck(section)))
    with pytest.raises(ValueError, match="at least one"):
        Section(template="t", title="t", items=(), pick=0)


@pytest.mark.parametrize(
    "identifier",
    ["", "1st", "a b", "../up", "a/b", "a..b", "a.", ".a", "a:b", "ä", "a\n", "x" * 201, "a\x00"],
)
def test_no_identifier_leads_out_of_the_package(identifier: str) -> None:
    section = Section(template="t", title="t", items=(replace(cosine_power(2), identifier=identifier),))
    with pytest.raises(ValueError, match="cannot be an identifier"):
        list(package(deck(section)))


def test_template_and_bank_are_names_as_well() -> None:
    with pytest.raises(ValueError, match="cannot be an identifier"):
        list(package(deck(Section(template="../t", title="t", items=()))))
    with pytest.raises(ValueError, match="cannot be an identifier"):
        list(package(deck(bank="a b")))


def test_identifiers_that_differ_by_case_alone_would_be_one_file() -> None:
    items = (cosine_power(2), replace(cosine_power(3), identifier="POWERS-cosine-2"))
    with pytest.raises(ValueError, match="occurs twice"):
        list(package(deck(Section(template="t", title="t", items=items))))


def test_mathematics_has_words_in_both_places() -> None:
    for item in (cosine_power(2), definite_power(3), free_cosine(2)):
        section = Section(template=item.template, title="t", items=(item,))
        path = f"items/{item.template}/{item.identifier}.xml"
        top = etree.fromstring(members(deck(section))[path])
        found = top.findall(".//{http://www.w3.org/1998/Math/MathML}math")
        assert len(found) > 3
        for math in found:
            holder = math.getparent()
            assert holder is not None
            assert holder.get("role") == "math"
            assert holder.get("aria-label") == math.get("alttext") != ""


def solution(item: Item) -> Any:
    """The content of the modal feedback of an item."""
    section = Section(template=item.template, title="t", items=(item,))
    data = members(deck(section))[f"items/{item.template}/{item.identifier}.xml"]
    return etree.fromstring(data).find("{*}qti-modal-feedback/{*}qti-content-body")


def test_steps_are_numbered_each_with_its_reason_and_after_its_equals_sign() -> None:
    item = cosine_power(2)
    start, *rest = item.working
    opening, steps = solution(item)
    assert etree.QName(steps).localname == "ol"
    assert [step.text for step in steps] == [row.reason for row in rest]
    shown = [opening, *(step[0] for step in steps)]
    for row, line in zip((start, *rest), shown, strict=True):
        first = line.find(".//{http://www.w3.org/1998/Math/MathML}math")
        assert (first[0].text == "=") == (row.kind == "step")
    assert [step[0].text for step in steps] == [{"let": "Let "}.get(row.kind) for row in rest]


def test_a_second_start_begins_a_second_list() -> None:
    item = cosine_power(2)
    start, step = item.working[:2]
    inside = solution(replace(item, working=(start, step, start, step)))
    assert [etree.QName(part).localname for part in inside] == ["p", "ol", "p", "ol"]


def test_no_blank_is_added_below_the_body() -> None:
    for path, data in members(deck()).items():
        if not path.startswith("items/"):
            continue
        for part in etree.fromstring(data).iterfind("{*}qti-item-body"):
            assert not any(
                (node.text or "x").isspace() or (node.tail or "x").isspace()
                for node in part.iter()
                if node is not part
            )


def test_an_item_without_working_still_tells_the_answer() -> None:
    inside = solution(replace(cosine_power(2), working=()))
    assert [etree.QName(part).localname for part in inside] == ["p"]
    assert "Answer: " in "".join(inside.itertext())


def test_a_choice_about_a_definite_integral_tells_its_value() -> None:
    inside = solution(replace(definite_power(3), response=cosine_power(2).response))
    assert "Answer: " in "".join(inside.itertext())
    assert "significant figures" not in "".join(inside.itertext())


def test_an_aside_says_that_it_is_used() -> None:
    item = cosine_power(2)
    inside = solution(replace(item, working=(replace(item.working[2], kind="aside"),)))
    assert inside[0][0][0].text == "Use "


def test_memory_grows_by_the_table_of_contents_alone() -> None:
    """Ten times the items may cost at most a kilobyte each, where an item's file is over twenty."""
    sample = cosine_power(2)

    def peak(count: int) -> int:
        def items() -> Iterator[Item]:
            for number in range(count):
                yield replace(sample, identifier=f"clone-{number}")

        big = deck(Section(template="t", title="t", items=items()))
        tracemalloc.start()
        for _ in package(big):
            pass
        _, most = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        return most

    few, many = 20, 200
    assert peak(many) - peak(few) < (many - few) * 1000


def test_the_zip_holds_what_the_writer_gave(tmp_path: Path) -> None:
    target = write_zip(package(deck()), tmp_path / "p.zip")
    with zipfile.ZipFile(target) as archive:
        assert {name: archive.read(name) for name in archive.namelist()} == members(deck())
