"""XML from anybody: UTF-8, without document type, without entities, of bounded depth; no network, no other file.

The names of QTI 2 (`assessmentItem`, `baseType`) and QTI 3 (`qti-assessment-item`, `base-type`) differ only in how
they are written; `kind` and `attribute` make them one, so that one reader serves all generations.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from lxml import etree

__all__ = ["Element", "XmlError", "attribute", "children", "inside", "kind", "line_of", "parse", "text_of"]

Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it


class XmlError(Exception):
    """Bytes that are not read as XML; the text says why.

    Attributes:
        line: where, counted from 1.
    """

    def __init__(self, message: str, line: int = 1) -> None:
        super().__init__(message)
        self.line = line


def parse(data: bytes) -> Element:
    """The root of a document.

    Args:
        data: the bytes of the document.

    Raises:
        XmlError: it is not well formed, not in UTF-8, or declares a document type or an entity.

    >>> kind(parse(b'<qti-assessment-item xmlns="urn:x"/>')), kind(parse(b'<assessmentItem xmlns="urn:x"/>'))
    ('assessmentitem', 'assessmentitem')
    """
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as problem:
        raise XmlError("it is not in UTF-8") from problem
    # an entity can be declared in a document type only: it is refused before a parser sees it
    at = text.find("<!DOCTYPE")
    if at >= 0:
        raise XmlError("a document type is not allowed", text.count("\n", 0, at) + 1)
    parser = etree.XMLParser(
        encoding="utf-8",
        resolve_entities=False,
        no_network=True,
        load_dtd=False,
        dtd_validation=False,
        huge_tree=False,
        remove_comments=True,
        remove_pis=True,
    )
    try:
        return etree.fromstring(data, parser)
    except etree.XMLSyntaxError as problem:
        raise XmlError(f"it is not well formed: {problem.msg}", problem.lineno or 1) from problem


def kind(element: Element) -> str:
    """The name of an element, the same for all generations of QTI: in small letters, without prefix and hyphens."""
    return _plain(etree.QName(element).localname)


def attribute(element: Element, name: str) -> str | None:
    """The value of an attribute, by its name in small letters without hyphens: `basetype`, `responseidentifier`."""
    for key, value in element.items():
        if _plain(str(key)) == name:
            return str(value)
    return None


def _plain(name: str) -> str:
    return name.removeprefix("qti-").replace("-", "").lower()


def children(element: Element, name: str) -> Iterator[Element]:
    """The children of that kind."""
    return (child for child in element if kind(child) == name)


def inside(element: Element, *names: str) -> Iterator[Element]:
    """Everything of these kinds below an element, in the order of the document."""
    return (found for found in element.iterdescendants() if kind(found) in names)


def text_of(element: Element) -> str:
    """The text of an element without the blanks around it."""
    return (element.text or "").strip()


def line_of(element: Element) -> int:
    """The line on which an element begins."""
    line: Any = element.sourceline  # the published stubs do not know its type
    return int(line or 1)
