"""Building XML of one namespace, and writing a long document piece by piece."""

from __future__ import annotations

from collections.abc import Mapping
from io import BytesIO
from typing import Any, Self

from lxml import etree

from qbank.writers.characters import clean, one_line
from qbank.writers.qti.names import QTI

__all__ = ["Piecewise", "add", "document", "root"]

# lxml-stubs leave out that a prefix may be None and do not know all of the incremental writer
_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it


def root(tag: str, namespaces: Mapping[str | None, str], attributes: Mapping[str, str]) -> _Element:
    """An element without parent, in the namespace whose prefix is None."""
    spaces: Any = dict(namespaces)
    return etree.Element(
        f"{{{spaces[None]}}}{tag}", {k: one_line(v) for k, v in attributes.items()}, nsmap=spaces
    )


def add(
    parent: _Element,
    tag: str,
    attributes: Mapping[str, str] | None = None,
    text: str | None = None,
    *,
    space: str = QTI,
) -> _Element:
    """A new last child of `parent`.

    Args:
        parent: where it goes.
        tag: its name without namespace.
        attributes: by name; values are cleaned.
        text: its text; cleaned.
        space: its namespace.
    """
    element = etree.SubElement(parent, f"{{{space}}}{tag}")
    for name, value in (attributes or {}).items():
        element.set(name, one_line(value))
    if text is not None:
        element.text = clean(text)
    return element


def document(top: _Element) -> bytes:
    """A whole document in UTF-8, ending with a line end."""
    return etree.tostring(top, xml_declaration=True, encoding="UTF-8") + b"\n"


def _attributes(element: _Element) -> dict[str, str]:
    return {str(name): str(value) for name, value in element.items()}


class Piecewise:
    """One document written from its start to its end, whose bytes can be taken away in between.

    with Piecewise() as out, out.inside("manifest", ...):
        out.write(tree)
        yield out.taken()
    """

    def __init__(self) -> None:
        self._buffer = BytesIO()
        self._file: Any = etree.xmlfile(self._buffer, encoding="UTF-8")
        self._writer: Any = None

    def __enter__(self) -> Self:
        self._writer = self._file.__enter__()
        self._writer.write_declaration()
        return self

    def __exit__(self, *problem: object) -> None:
        self._file.__exit__(*problem)
        self._writer = None
        self._buffer.write(b"\n")

    def inside(self, top: _Element) -> Any:
        """A context in which children of `top` are written; `top` gives its name, namespaces and attributes."""
        namespaces = top.nsmap if top.getparent() is None else None
        return self._writer.element(top.tag, _attributes(top), nsmap=namespaces)

    def line(self, depth: int) -> None:
        """A line end, and the indent of what follows."""
        self._writer.write("\n" + "  " * depth)

    def write(self, element: _Element, depth: int) -> None:
        """An element with all below it, indented, on lines of its own; namespaces are those of its ancestors."""
        self.line(depth)
        children = list(element)
        with self._writer.element(element.tag, _attributes(element)):
            if element.text:
                self._writer.write(element.text)
            for child in children:
                self.write(child, depth + 1)
            if children:
                self.line(depth)

    def taken(self) -> bytes:
        """The bytes written since the last time."""
        if self._writer is not None:
            self._writer.flush()
        data = self._buffer.getvalue()
        self._buffer.seek(0)
        self._buffer.truncate()
        return data
