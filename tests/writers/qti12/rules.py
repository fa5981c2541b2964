"""The rules beside the schemas of Common Cartridge 1.1: Schematron in their annotations, which no XML Schema checks."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lxml import etree

_SCHEMATRON = "{http://purl.oclc.org/dsdl/schematron}"


class Rules:
    """The rules of one schema, carried out with XPath 1.0 as they stand."""

    def __init__(self, schema: Path, *corrections: tuple[str, str]) -> None:
        """Read the rules.

        Args:
            schema: the file of the schema.
            corrections: in the tests of the 1.1 manifest the types of resources still have the number 1.0.
        """
        tree = etree.parse(str(schema))
        self.spaces = {one.get("prefix"): one.get("uri") for one in tree.iter(_SCHEMATRON + "ns")}
        self.rules = [
            (self._corrected(rule.get("context"), corrections), self._corrected(one.get("test"), corrections))
            for rule in tree.iter(_SCHEMATRON + "rule")
            for one in rule.iter(_SCHEMATRON + "assert")
        ]
        assert len(self.rules) > 20

    @staticmethod
    def _corrected(text: str | None, corrections: tuple[tuple[str, str], ...]) -> str:
        assert text is not None
        for old, new in corrections:
            text = text.replace(old, new)
        return text

    def broken(self, document: bytes) -> list[str]:
        """The tests that some element of the document fails."""
        tree: Any = etree.fromstring(document).getroottree()
        return [
            f"{context}: {test}"
            for context, test in self.rules
            for element in tree.xpath(f"//{context}", namespaces=self.spaces)
            if not element.xpath(f"boolean({test})", namespaces=self.spaces)
        ]


def of_items(shared: Path) -> Rules:
    """The rules of documents with questions."""
    return Rules(shared / "standards" / "qti-1.2.1-cc-1.1" / "ccv1p1_qtiasiv1p2p1_v1p0.xsd")


def of_manifests(shared: Path) -> Rules:
    """The rules of manifests."""
    folder = shared / "standards" / "qti-1.2.1-cc-1.1"
    return Rules(folder / "ccv1p1_imscp_v1p2_v1p0.xsd", ("imscc_xmlv1p0", "imscc_xmlv1p1"))
