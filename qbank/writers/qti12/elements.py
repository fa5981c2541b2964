"""Building XML whose elements take the namespace of their parent."""

from __future__ import annotations

from collections.abc import Mapping

from lxml import etree

from qbank.writers.characters import clean, one_line, shown

__all__ = ["XSI_LOCATION", "add", "root"]

_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it

_XSI = "http://www.w3.org/2001/XMLSchema-instance"
XSI_LOCATION = f"{{{_XSI}}}schemaLocation"


def root(tag: str, namespace: str | None, attributes: Mapping[str, str]) -> _Element:
    """An element without parent; its namespace, where it has one, needs no prefix.

    >>> etree.tostring(root("item", None, {"ident": "a"}))
    b'<item ident="a"/>'
    """
    spaces = {} if namespace is None else {None: namespace}
    element = etree.Element(_named(tag, namespace), nsmap=spaces)  # type: ignore[arg-type]  # None is a prefix
    _describe(element, attributes)
    return element


def add(
    parent: _Element, tag: str, attributes: Mapping[str, str] | None = None, text: str | None = None
) -> _Element:
    """A new last child of `parent`, in its namespace.

    Args:
        parent: where it goes.
        tag: its name without namespace.
        attributes: by name; values are cleaned and made one line.
        text: its text; cleaned.
    """
    element = etree.SubElement(parent, _named(tag, etree.QName(parent).namespace))
    _describe(element, attributes or {})
    if text is not None:
        element.text = clean(text)
    return element


def _named(tag: str, namespace: str | None) -> str:
    return tag if namespace is None else f"{{{namespace}}}{tag}"


def _describe(element: _Element, attributes: Mapping[str, str]) -> None:
    for name, value in attributes.items():
        # a title is all that students see of an attribute
        element.set(name, shown(one_line(value)) if name == "title" else one_line(value))
