"""The package as a whole: against the standard's schemas, its references, hostile texts and identifiers."""

from __future__ import annotations

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
from qbank.writers import phrases
from qbank.writers.archive import write_zip
from qbank.writers.qti import QTI3, QTI21, QTI22, Generation, package
from tests.writers.qti.binding import attribute, children, named
from tests.writers.sample_items import X, cosine_power, deck, definite_power, every_section, free_cosine
from tests.writers.validating import validate

every_generation = pytest.mark.parametrize(
    "generation", [QTI3, QTI22, QTI21], ids=lambda generation: generation.version
)

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


def members(sample: Deck, generation: Generation = QTI3) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for artifact in package(sample, generation):
        found[artifact.path] = found.get(artifact.path, b"") + artifact.data
    return found


@pytest.mark.reference
@every_generation
def test_valid_against_the_standards_schemas(generation: Generation, shared: Path, tmp_path: Path) -> None:
    validate(shared, write_zip(package(deck(), generation), tmp_path / "p.zip"))


@pytest.mark.reference
@every_generation
def test_the_schemas_refuse_what_is_wrong(generation: Generation, shared: Path, tmp_path: Path) -> None:
    files = members(deck(), generation)
    files["test.xml"] = files["test.xml"].replace(b'title="', b'caption="', 1)
    for path, data in files.items():
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).write_bytes(data)
    with pytest.raises(AssertionError, match="title"):
        validate(shared, tmp_path)


@pytest.mark.reference
@every_generation
def test_hostile_texts_are_valid_too(generation: Generation, shared: Path, tmp_path: Path) -> None:
    validate(shared, write_zip(package(hostile_deck(), generation), tmp_path / "p.zip"))


@every_generation
@pytest.mark.parametrize("number", range(len(HOSTILE)))
def test_hostile_texts_stay_texts(number: int, generation: Generation) -> None:
    """No element comes of a text: the document has the elements of the same item with a harmless text."""
    files = members(hostile_deck(), generation)
    path = f"items/hostile/hostile-{number}.xml"
    harmless = Section(template="hostile", title="t", items=(hostile_item(number, "text"),))
    plain = members(deck(harmless), generation)
    tags = [element.tag for element in etree.fromstring(files[path]).iter()]
    assert tags == [element.tag for element in etree.fromstring(plain[path]).iter()]
    assert b"<script" not in files[path]
    assert b"\x00" not in files[path]


def test_order_of_members_and_their_names() -> None:
    paths = list(members(deck()))
    assert paths[0] == "items/cosine-cubed/powers-cosine-2.xml"
    assert paths[-2:] == ["test.xml", "imsmanifest.xml"]


@every_generation
def test_sections_of_the_test(generation: Generation) -> None:
    sections = list(named(etree.fromstring(members(deck(), generation)["test.xml"]), "assessmentSection"))
    assert [section.get("identifier") for section in sections] == [
        f"section-{section.template}" for section in every_section()
    ]
    # students see these titles: they name no technique
    assert [section.get("title") for section in sections] == [
        phrases.part(number) for number, _ in enumerate(sections, 1)
    ]
    for section, written in zip(every_section(), sections, strict=True):
        selected = [attribute(one, "select") for one in children(written, "selection")]
        assert selected == ([] if section.pick is None else ["1"])
        (ordering,) = children(written, "ordering")
        assert attribute(ordering, "shuffle") == "true"
        references = [one.get("identifier") for one in children(written, "assessmentItemRef")]
        assert references == [item.identifier for item in section.items]


def test_nothing_is_shuffled_unless_wanted() -> None:
    files = members(deck(shuffle=False))
    assert b'shuffle="true"' not in b"".join(files.values())
    assert b'shuffle="true"' in b"".join(members(deck()).values())


def test_a_section_cannot_deal_more_than_it_has() -> None:
    section = Section(template="cosine-cubed", title="t", items=(cosine_power(2),), pick=2)
    with pytest.raises(ValueError, match="2 items are to be dealt, but there are 1"):
        list(package(deck(section), QTI3))
    with pytest.raises(ValueError, match="at least one"):
        Section(template="t", title="t", items=(), pick=0)


@pytest.mark.parametrize(
    "identifier",
    ["", "1st", "a b", "../up", "a/b", "a..b", "a.", ".a", "a:b", "ä", "a\n", "x" * 201, "a\x00"],
)
def test_no_identifier_leads_out_of_the_package(identifier: str) -> None:
    section = Section(template="t", title="t", items=(replace(cosine_power(2), identifier=identifier),))
    with pytest.raises(ValueError, match="cannot be an identifier"):
        list(package(deck(section), QTI3))


def test_template_and_bank_are_names_as_well() -> None:
    with pytest.raises(ValueError, match="cannot be an identifier"):
        list(package(deck(Section(template="../t", title="t", items=())), QTI3))
    with pytest.raises(ValueError, match="cannot be an identifier"):
        list(package(deck(bank="a b"), QTI3))


def test_identifiers_that_differ_by_case_alone_would_be_one_file() -> None:
    items = (cosine_power(2), replace(cosine_power(3), identifier="POWERS-cosine-2"))
    with pytest.raises(ValueError, match="occurs twice"):
        list(package(deck(Section(template="t", title="t", items=items)), QTI3))


MATH = "{http://www.w3.org/1998/Math/MathML}math"


@every_generation
def test_mathematics_has_words_wherever_they_may_stand(generation: Generation) -> None:
    for item in (cosine_power(2), definite_power(3), free_cosine(2)):
        section = Section(template=item.template, title="t", items=(item,))
        path = f"items/{item.template}/{item.identifier}.xml"
        found = list(etree.fromstring(members(deck(section), generation)[path]).iter(MATH))
        assert len(found) > 3
        for math in found:
            assert math.get("alttext")
            holder = math.getparent()
            assert holder is not None
            if generation.aria:
                assert (holder.get("role"), holder.get("aria-label")) == ("math", math.get("alttext"))
            else:
                assert etree.QName(holder).localname != "span"


@every_generation
def test_mathematics_is_set_in_full_size(generation: Generation) -> None:
    """MathML 3 says so on `math`; MathML 2, to which QTI 2.x refers, on an `mstyle` inside."""
    data = members(deck(), generation)["items/cosine-cubed/powers-cosine-2.xml"]
    signs = 0
    for math in etree.fromstring(data).iter(MATH):
        inside = math if generation is QTI3 else math[0]
        assert inside.get("displaystyle") == "true"
        assert generation is QTI3 or (len(math) == 1 and etree.QName(inside).localname == "mstyle")
        signs += inside[0].text == "="
    assert signs == 3, "steps after the first line begin with an equals sign"


def text_of(element: Any) -> str:
    return " ".join("".join(element.itertext()).split())


@every_generation
def test_feedback_has_the_same_texts_in_every_generation(generation: Generation) -> None:
    for path, data in members(deck()).items():
        if path.startswith("items/"):
            words = text_of(etree.fromstring(data))
            other = etree.fromstring(members(deck(), generation)[path])
            assert text_of(other) == words


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
    lines = [step[0] for step in steps]
    assert [line.text for line in lines] == [row.reason for row in rest]
    shown = [opening, *lines]
    for row, line in zip((start, *rest), shown, strict=True):
        first = line.find(".//{http://www.w3.org/1998/Math/MathML}math")
        assert (first[0].text == "=") == (row.kind == "step")
    assert [line[0].tail for line in lines] == [{"let": "Let "}.get(row.kind) for row in rest]


def test_a_second_start_begins_a_second_list() -> None:
    item = cosine_power(2)
    start, step = item.working[:2]
    inside = solution(replace(item, working=(start, step, start, step)))
    assert [etree.QName(part).localname for part in inside] == ["p", "ol", "p", "ol"]


@every_generation
def test_no_blank_is_added_below_the_body(generation: Generation) -> None:
    for path, data in members(deck(), generation).items():
        if not path.startswith("items/"):
            continue
        (body,) = children(etree.fromstring(data), "itemBody")
        for part in (body,):
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
    assert inside[0][0][0][0].tail == "Use "


def test_memory_grows_by_the_table_of_contents_alone() -> None:
    """Further items may cost at most a kilobyte each, where an item's file is over twenty."""
    sample = cosine_power(2)

    def peak(count: int) -> int:
        def items() -> Iterator[Item]:
            for number in range(count):
                yield replace(sample, identifier=f"clone-{number}")

        big = deck(Section(template="t", title="t", items=items()))
        tracemalloc.start()
        for _ in package(big, QTI3):
            pass
        _, most = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        return most

    # both more than the manifest's lines that are written at once
    few, many = 60, 110
    assert peak(many) - peak(few) < (many - few) * 1000


def test_the_zip_holds_what_the_writer_gave(tmp_path: Path) -> None:
    target = write_zip(package(deck(), QTI3), tmp_path / "p.zip")
    with zipfile.ZipFile(target) as archive:
        assert {name: archive.read(name) for name in archive.namelist()} == members(deck())
