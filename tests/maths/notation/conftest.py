"""What the tests of notation share: the published schema of MathML, read once."""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import etree


@pytest.fixture(scope="session")
def schema(shared: Path) -> etree.XMLSchema:
    """The W3C schema of MathML 3; its includes lie beside it, and the network is not used."""
    path = shared / "standards" / "w3" / "mathml3-1998" / "mathml3.xsd"
    if not path.is_file():
        pytest.skip(f"no MathML schema at {path}")
    return etree.XMLSchema(etree.parse(str(path), etree.XMLParser(no_network=True)))
