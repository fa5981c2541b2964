"""The tests' own account of the names, against the published schemas and against what is written."""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import etree

from qbank.writers.qti import QTI3, QTI21, QTI22, Generation, package
from tests.writers.qti.binding import ATTRIBUTES, ELEMENTS
from tests.writers.sample_items import deck

SCHEMAS = {
    QTI3: "qti-3.0/imsqti_asiv3p0_v1p0.xsd",
    QTI22: "qti-2.2/imsqti_v2p2p2.xsd",
    QTI21: "qti-2.1/imsqti_v2p1.xsd",
}
XSD = "{http://www.w3.org/2001/XMLSchema}"
XHTML = {"p", "br", "div", "span", "ol", "li"}


@pytest.mark.reference
@pytest.mark.parametrize("generation", SCHEMAS, ids=lambda one: one.version)
def test_every_name_is_in_the_schema(generation: Generation, shared: Path) -> None:
    schema = etree.parse(shared / "standards" / SCHEMAS[generation])
    assert schema.getroot().get("targetNamespace") == generation.items
    elements = {one.get("name") for one in schema.iter(XSD + "element")}
    attributes = {one.get("name") for one in schema.iter(XSD + "attribute")}
    new = generation is QTI3
    assert set(ELEMENTS.values() if new else ELEMENTS) <= elements
    assert set(ATTRIBUTES.values() if new else ATTRIBUTES) <= attributes


@pytest.mark.parametrize("generation", SCHEMAS, ids=lambda one: one.version)
def test_what_is_written_has_these_names(generation: Generation) -> None:
    new = generation is QTI3
    elements = XHTML | set(ELEMENTS.values() if new else ELEMENTS) | ({"qti-content-body"} if new else set())
    attributes = set(ATTRIBUTES.values() if new else ATTRIBUTES)
    if generation.aria:
        attributes |= {"role", "aria-label"}
    else:
        elements.remove("span")
    if generation.human_scoring:
        attributes.add("external-scored" if new else "externalScored")
    written_elements, written_attributes = set(), set()
    for path, data in files(generation).items():
        if path == "imsmanifest.xml":
            continue
        for element in etree.fromstring(data).iter(etree.Element):
            name = etree.QName(element)
            if name.namespace == generation.items:
                written_elements.add(name.localname)
                written_attributes |= {str(key) for key in element.attrib if not str(key).startswith("{")}
    assert written_elements <= elements
    assert written_attributes <= attributes


@pytest.mark.parametrize("name", list(ELEMENTS) + list(ATTRIBUTES))
def test_the_rule_gives_the_published_names(name: str) -> None:
    published = ELEMENTS.get(name) or ATTRIBUTES[name]
    assert QTI3.name(published) == published
    assert QTI22.name(published) == QTI21.name(published) == name


def test_words_of_the_manifest() -> None:
    """Those of 2.2 are read off the official example of a manifest; of 3.0 off its schema; of 2.1 by analogy."""
    for generation, schema, version, kind in (
        (QTI3, "QTI Package", "3.0.0", "xmlv3p0"),
        (QTI22, "QTIv2.2 Package", "1.0.0", "xmlv2p2"),
        (QTI21, "QTIv2.1 Package", "1.0.0", "xmlv2p1"),
    ):
        manifest = etree.fromstring(files(generation)["imsmanifest.xml"])
        assert manifest.findtext("{*}metadata/{*}schema") == schema
        assert manifest.findtext("{*}metadata/{*}schemaversion") == version
        types = [one.get("type") for one in manifest.iterfind(".//{*}resource")]
        assert set(types) == {f"imsqti_test_{kind}", f"imsqti_item_{kind}"}
        assert types.index(f"imsqti_test_{kind}") == 0


@pytest.mark.reference
def test_the_words_of_2_2_are_those_of_the_official_example(shared: Path) -> None:
    example = etree.parse(shared / "standards" / "examples" / "qti-2.2" / "imsmanifest-example.xml").getroot()
    assert example.findtext("{*}metadata/{*}schema") == QTI22.schema
    assert example.findtext("{*}metadata/{*}schemaversion") == QTI22.schema_version
    resource = example.find(".//{*}resource")
    assert resource is not None
    assert resource.get("type") == f"imsqti_item_{QTI22.resource}"
    (location,) = example.attrib["{http://www.w3.org/2001/XMLSchema-instance}schemaLocation"].split()[1:]
    assert location == QTI22.locations[1]
    assert etree.QName(example).namespace == QTI22.package


def files(generation: Generation) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for artifact in package(deck(), generation):
        found[artifact.path] = found.get(artifact.path, b"") + artifact.data
    return found
