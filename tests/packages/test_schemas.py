"""Validation against schemas of the user's: small ones made here, and the official ones where they are at hand."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from lxml import etree

from qbank.packages.opening import PackageError
from qbank.packages.parsing import parse
from qbank.packages.schemas import Schemas
from qbank.packages.verifying import verify
from tests.packages.sample import changed, written

ROOT = Path(__file__).resolve().parents[2]
OFFICIAL = Path(os.environ.get("QBANK_SHARED", ROOT.parent / "shared")) / "standards"

XSD = """<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:o="urn:other" targetNamespace="urn:a">
<xs:import namespace="urn:other" schemaLocation="{other}"/>
<xs:element name="a"><xs:complexType><xs:sequence><xs:element ref="o:b"/></xs:sequence></xs:complexType></xs:element>
</xs:schema>"""
OTHER = """<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="urn:other">
<xs:element name="b" type="xs:int"/></xs:schema>"""
PLACE = "https://schemas.example/2020/a.xsd"


def folder(path: Path, other: str = "https://schemas.example/deep/other.xsd", catalog: str = "") -> Path:
    (path / "deep").mkdir()
    (path / "a.xsd").write_text(XSD.format(other=other), encoding="utf-8")
    (path / "deep" / "other.xsd").write_text(OTHER, encoding="utf-8")
    if catalog:
        (path / "catalog.xml").write_text(catalog, encoding="utf-8")
    return path


def document(inside: str, location: str = f"urn:a {PLACE}") -> etree._Element:
    xsi = 'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"'
    return parse(f'<a xmlns="urn:a" {xsi} xsi:schemaLocation="{location}">{inside}</a>'.encode())


def problems(schemas: Schemas, root: etree._Element) -> list[str]:
    return [str(problem) for problem in schemas.problems("m.xml", root)]


GOOD = '<b xmlns="urn:other">1</b>'


@pytest.mark.parametrize(
    "other", ["https://schemas.example/deep/other.xsd", "deep/other.xsd", "urn:x/other.xsd"]
)
def test_imports_come_from_the_folder(other: str, tmp_path: Path) -> None:
    schemas = Schemas(folder(tmp_path, other))
    assert problems(schemas, document(GOOD)) == []
    (wrong,) = problems(schemas, document(GOOD.replace("1", "one")))
    assert wrong.startswith("m.xml:1: ")


def test_a_catalog_comes_before_the_names(tmp_path: Path) -> None:
    catalog = f"""<catalog xmlns="urn:oasis:names:tc:entity:xmlns:xml:catalog">
      <system systemId="{PLACE}" uri="deep/other.xsd"/>
      <uri name="urn:outside" uri="../../etc/hosts"/>
      <uri name="urn:empty"/>
    </catalog>"""
    schemas = Schemas(folder(tmp_path, catalog=catalog))
    assert schemas.find(PLACE) == (tmp_path / "deep" / "other.xsd").resolve()
    assert schemas.find("urn:outside") is None
    assert schemas.find("https://elsewhere.example/a.xsd") == (tmp_path / "a.xsd").resolve()


def test_what_is_not_in_the_folder_is_never_fetched(tmp_path: Path) -> None:
    schemas = Schemas(folder(tmp_path, "https://schemas.example/absent.xsd"))
    (wrong,) = problems(schemas, document(GOOD))
    assert "cannot be used" in wrong
    (wrong,) = problems(schemas, document(GOOD, "urn:a https://schemas.example/absent.xsd"))
    assert wrong == "m.xml: the schema absent.xsd is not in the folder"


def test_a_document_that_follows_no_schema(tmp_path: Path) -> None:
    schemas = Schemas(folder(tmp_path))
    for location in ("", "urn:b b.xsd", "urn:a"):
        assert problems(schemas, document(GOOD, location)) == [
            "m.xml: it does not say which schema it follows"
        ]


def test_folders_that_are_no_use(tmp_path: Path) -> None:
    with pytest.raises(PackageError, match="no schemas"):
        Schemas(tmp_path)
    with pytest.raises(PackageError, match="well formed"):
        Schemas(folder(tmp_path, catalog="<catalog"))


@pytest.mark.reference
@pytest.mark.skipif(not OFFICIAL.is_dir(), reason="the official schemas are not beside the checkout")
def test_our_packages_are_valid(tmp_path: Path) -> None:
    """The XML Schemas of QTI 3.0 (1EdTech), with its profile of content packaging and LOM."""
    schemas = Schemas(OFFICIAL)
    report = verify(written(tmp_path, "qti3"), schemas=schemas)
    assert report.problems == []
    assert report.validated == 6

    def change(parts: dict[str, bytes]) -> None:
        parts["test.xml"] = parts["test.xml"].replace(b"navigation-mode", b"navigation")

    report = verify(changed(tmp_path, "qti3", change), schemas=schemas)
    assert any("navigation" in problem.message for problem in report.problems)
