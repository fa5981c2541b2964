"""Packages of QTI 1.2 and cartridges as a whole: schemas and rules, hostile texts, sharing out of clones, size in memory."""

from __future__ import annotations

import tracemalloc
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from qbank.items.deck import Deck, Section
from qbank.items.item import FreeExpression, Item, Numeric
from qbank.maths.expression import cos
from qbank.writers import WRITERS, Options, save
from qbank.writers.qti12.names import CARTRIDGE
from tests.items.shipped import shipped_deck
from tests.writers.qti.test_package import HOSTILE, hostile_deck
from tests.writers.qti12 import rules
from tests.writers.qti12.processor import items
from tests.writers.qti12.reading import Seen, as_xml, html_texts, members
from tests.writers.sample_items import X, cosine_power, deck, definite_power, free_cosine
from tests.writers.validating import validate

BANK, TESTS = Options(purpose="bank"), Options(purpose="assessment")
WAYS = [
    pytest.param("cc", TESTS, id="tests"),
    pytest.param("cc", BANK, id="bank"),
    pytest.param("cc", Options(cartridge="1.3"), id="1.3"),
    pytest.param("cc", Options(cartridge="1.3", purpose="bank"), id="1.3-bank"),
    pytest.param("qti12", TESTS, id="plain"),
]


def files(sample: Deck, name: str = "cc", options: Options = TESTS) -> dict[str, bytes]:
    return members(WRITERS[name].write(sample, options))


def documents(found: dict[str, bytes]) -> dict[str, bytes]:
    return {path: data for path, data in found.items() if path != "imsmanifest.xml"}


def hostile() -> Deck:
    """Hostile texts in every place that takes a text, of choices, numbers and free answers."""
    sample = hostile_deck()
    text = " ".join(HOSTILE)
    free = replace(free_cosine(2), title=text, prompt=(text,), language=text, template="hostile")
    assert isinstance(free.response, FreeExpression)
    free = replace(free, response=replace(free.response, rubric=(text, cos(X), text)))
    number = definite_power(2, 3)
    assert isinstance(number.response, Numeric)
    slips = tuple(replace(slip, feedback=(text, X, text)) for slip in number.response.slips)
    number = replace(number, prompt=(text,), response=replace(number.response, slips=slips))
    others = Section(template="others", title=text, items=(free, number), pick=2)
    (section,) = sample.sections
    return replace(sample, sections=(replace(section, pick=len(HOSTILE)), others))


@pytest.mark.reference
@pytest.mark.parametrize(("name", "options"), WAYS)
def test_schemas_on_sample_and_hostile_texts(
    shared: Path, tmp_path: Path, name: str, options: Options
) -> None:
    """Cartridges of 1.3 are checked with the schema of 1.1 as a stand-in; of a plain package the manifest alone."""
    for number, sample in enumerate((deck(), hostile())):
        validate(shared, save(WRITERS[name], sample, tmp_path / f"{number}.zip", options=options))


@pytest.mark.reference
@pytest.mark.parametrize(("name", "options"), WAYS)
def test_schemas_on_the_shipped_bank(shared: Path, tmp_path: Path, name: str, options: Options) -> None:
    validate(shared, save(WRITERS[name], shipped_deck(2, 1), tmp_path / "p.zip", options=options))


@pytest.mark.reference
def test_rules_beside_the_schemas(shared: Path) -> None:
    of_items, of_manifests = rules.of_items(shared), rules.of_manifests(shared)
    for sample in (deck(), hostile()):
        for options in (TESTS, BANK):
            found = files(sample, options=options)
            assert of_manifests.broken(found["imsmanifest.xml"]) == []
            for document in documents(found).values():
                assert of_items.broken(document) == []


@pytest.mark.reference
def test_the_rules_can_be_broken(shared: Path) -> None:
    found = files(deck(), options=BANK)
    broken = found["bank.xml"].replace(b'rcardinality="Single"', b'rcardinality="Multiple"', 1)
    assert rules.of_items(shared).broken(broken)
    manifest = found["imsmanifest.xml"].replace(
        b'<item identifier="contents"/>', b'<item identifier="contents" identifierref="bank-powers"/>'
    )
    assert rules.of_manifests(shared).broken(manifest)


@pytest.mark.reference
def test_items_of_a_plain_package_against_the_schema_of_cartridges(shared: Path, tmp_path: Path) -> None:
    """The schema of QTI 1.2 itself is not held; the profile is a part of it, and our items keep to that part."""
    found = items(files(hostile(), "qti12")["questions.xml"])
    assert found
    inside = b"".join(etree.tostring(item) for item in found)
    head = f'<questestinterop xmlns="{CARTRIDGE.namespace}"><objectbank ident="b">'.encode()
    document = tmp_path / "bank.xml"
    document.write_bytes(head + inside + b"</objectbank></questestinterop>")
    validate(shared, document)


@pytest.mark.parametrize(("name", "options"), WAYS)
def test_hostile_texts_stay_texts_after_the_reader_unescapes_once(name: str, options: Options) -> None:
    """The HTML has exactly the elements of the same item with a harmless text, for two kinds of parser."""
    wild = [text for data in documents(files(hostile(), name, options)).values() for text in html_texts(data)]
    tame_deck = harmless(hostile())
    tame = [text for data in documents(files(tame_deck, name, options)).values() for text in html_texts(data)]
    assert len(wild) == len(tame) > 50
    met = ""
    for hostile_html, harmless_html in zip(wild, tame, strict=True):
        seen, expected = Seen(hostile_html), Seen(harmless_html)
        assert seen.tags == expected.tags
        assert not seen.odd
        assert [one.tag for one in as_xml(hostile_html).iter()] == [
            one.tag for one in as_xml(harmless_html).iter()
        ]
        met += seen.text
    # the text itself arrives, letter for letter where XML can say it
    assert HOSTILE[0] in met
    assert HOSTILE[1] in met
    assert "\x00" not in met


def harmless(sample: Deck) -> Deck:
    def calm(value: Any) -> Any:
        return tuple("text" if isinstance(piece, str) else piece for piece in value)

    def tamed(item: Item) -> Item:
        response: Any = item.response
        if item.form == "choice":
            options = tuple(replace(one, feedback=calm(one.feedback)) for one in response.options)
            response = replace(response, options=options)
        elif item.form == "numeric":
            response = replace(
                response, slips=tuple(replace(one, feedback=calm(one.feedback)) for one in response.slips)
            )
        else:
            response = replace(response, rubric=calm(response.rubric))
        working = tuple(replace(row, reason="text") for row in item.working)
        return replace(
            item, prompt=calm(item.prompt), working=working, response=response, language="en", title="text"
        )

    sections = tuple(
        replace(section, title="text", items=tuple(tamed(item) for item in section.items))
        for section in sample.sections
    )
    return replace(sample, sections=sections)


@pytest.mark.parametrize(("name", "options"), WAYS)
def test_no_markup_of_a_text_in_the_xml_either(name: str, options: Options) -> None:
    for data in files(hostile(), name, options).values():
        assert b"<script" not in data
        assert b"\x00" not in data
        assert b"<![CDATA[" not in data
        assert b"<!" not in data
        assert data.count(b"<?") == 1


def test_mathematics_is_mathml_with_words() -> None:
    for text in html_texts(files(deck(), options=BANK)["bank.xml"]):
        for math in as_xml(text).iter("{http://www.w3.org/1998/Math/MathML}math"):
            span = math.getparent()
            assert (span.tag, span.get("role")) == ("span", "math")
            assert span.get("aria-label") == math.get("alttext")
        for block in as_xml(text):
            assert block.get("lang") == "en"


def idents(document: bytes) -> list[str]:
    return [item.get("ident") for item in items(document)]


def three(template: str, pick: int | None, count: int = 3) -> Section:
    clones = tuple(
        replace(cosine_power(2), identifier=f"{template}-{number}", template=template)
        for number in range(count)
    )
    return Section(template=template, title=template, items=clones, pick=pick)


def test_clones_are_shared_out_to_tests_of_equal_build() -> None:
    found = files(deck(three("a", 1), three("b", 2, 5)))
    assert [idents(data) for data in documents(found).values()] == [
        ["a-0", "b-0", "b-1"],
        ["a-1", "b-2", "b-3"],
    ]
    assert list(found) == ["tests/1.xml", "tests/2.xml", "imsmanifest.xml"]
    titles = [one.text for one in etree.fromstring(found["imsmanifest.xml"]).iter("{*}title") if one.text]
    assert [title.strip() for title in titles if title.strip()] == [
        "Powers & products (1)",
        "Powers & products (2)",
    ]


def test_a_section_that_deals_all_makes_one_test() -> None:
    found = documents(files(deck(three("a", 1), three("b", None))))
    assert [idents(data) for data in found.values()] == [["a-0", "b-0", "b-1", "b-2"]]


def test_a_bank_files_every_clone_under_its_template() -> None:
    (data,) = documents(files(deck(three("a", 1), three("b", 2)), options=BANK)).values()
    assert idents(data) == ["a-0", "a-1", "a-2", "b-0", "b-1", "b-2"]
    entries = [one.text for one in etree.fromstring(data).iter("{*}fieldentry") if one.text in ("a", "b")]
    assert entries == ["a", "a", "a", "b", "b", "b"]


def test_a_plain_package_deals_from_sections() -> None:
    document = etree.fromstring(files(deck(three("a", 1), three("b", None)), "qti12")["questions.xml"])
    first, second = document.iter("section")
    (number,) = first.iter("selection_number")
    assert number.text == "1"
    assert [one.get("order_type") for one in first.iter("order")] == ["Random"]
    assert not list(second.iter("selection_number"))
    # the title of a template may give its technique away
    assert [one.get("title") for one in (first, second)] == ["Part 1", "Part 2"]


def test_shuffling() -> None:
    for name in ("cc", "qti12"):
        shuffled = b"".join(files(deck(), name).values())
        fixed = b"".join(files(deck(shuffle=False), name).values())
        assert b' shuffle="Yes"' in shuffled
        assert b' shuffle="No"' not in shuffled
        assert b' shuffle="Yes"' not in fixed
        assert b"Random" not in fixed


def test_versions_of_the_cartridge() -> None:
    for version, short in (("1.1", b"v1p1"), ("1.3", b"v1p3")):
        found = files(deck(), options=Options(cartridge=version))  # type: ignore[arg-type]  # both are versions
        assert f"<schemaversion>{version}.0</schemaversion>".encode() in found["imsmanifest.xml"]
        assert b'type="imsqti_xmlv1p2/imscc_xml' + short + b'/assessment"' in found["imsmanifest.xml"]


@pytest.mark.parametrize("options", [TESTS, BANK])
def test_an_empty_cartridge_is_refused(options: Options) -> None:
    for sample in (deck(Section(template="t", title="t", items=(), pick=None)), replace(deck(), sections=())):
        with pytest.raises(ValueError, match="there is no item to write"):
            files(sample, options=options)


def test_more_to_deal_than_there_are() -> None:
    for name in ("cc", "qti12"):
        with pytest.raises(ValueError, match="section a: 4 items are to be dealt, but there are 3"):
            files(deck(three("a", 4)), name)


@pytest.mark.parametrize(("name", "options"), WAYS)
def test_identifiers_are_names_and_different(name: str, options: Options) -> None:
    for identifiers, why in ((("x", "X"), "occurs twice"), (("x", "../x"), "cannot be an identifier")):
        clones = tuple(replace(cosine_power(2), identifier=identifier) for identifier in identifiers)
        with pytest.raises(ValueError, match=why):
            files(deck(Section(template="t", title="t", items=clones, pick=2)), name, options)


@pytest.mark.parametrize(("name", "options"), [WAYS[0], WAYS[1], WAYS[4]])
def test_memory_stays_flat(name: str, options: Options) -> None:
    item = cosine_power(2)

    def endless(count: int) -> Iterator[Item]:
        for number in range(count):
            yield replace(item, identifier=f"i-{number}")

    def peak(count: int) -> int:
        sample = deck(Section(template="t", title="t", items=endless(count), pick=1))
        tracemalloc.start()
        for _ in WRITERS[name].write(sample, options):
            pass
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        return most

    peak(5)
    few, many = peak(5), peak(30)
    # the register of identifiers grows, and for tests the list of resources; an item written is some 30,000 bytes
    assert many - few < 25 * 3000
