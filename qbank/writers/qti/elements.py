"""Building XML, and writing a long document piece by piece.

Elements of items and tests are asked for by their names in QTI 3.0; they get the name that the generation of their
parent gives them.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from io import BytesIO
from typing import Any, Self

from lxml import etree

from qbank.writers.characters import clean, one_line, shown
from qbank.writers.marks import written
from qbank.writers.qti.generation import Generation, generation_of
from qbank.writers.qti.names import XSI_LOCATION

__all__ = ["Piecewise", "add", "add_content_body", "document", "qti_root", "root"]

# lxml-stubs leave out that a prefix may be None and do not know all of the incremental writer
_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it


def root(tag: str, namespaces: Mapping[str | None, str], attributes: Mapping[str, str]) -> _Element:
    """An element without parent, in the namespace whose prefix is None."""
    spaces: Any = dict(namespaces)
    return etree.Element(
        f"{{{spaces[None]}}}{tag}", {k: shown(one_line(v)) for k, v in attributes.items()}, nsmap=spaces
    )


def qti_root(generation: Generation, tag: str, attributes: Mapping[str, str]) -> _Element:
    """The root of an item or a test, which says where its schema is.

    Args:
        generation: the generation of QTI.
        tag: its name in 3.0.
        attributes: by their names in 3.0.
    """
    named = {generation.name(name): value for name, value in attributes.items()}
    return root(
        generation.name(tag),
        {None: generation.items},
        {XSI_LOCATION: generation.item_locations(), **named},
    )


def add(
    parent: _Element,
    tag: str,
    attributes: Mapping[str, str] | None = None,
    text: str | None = None,
    *,
    space: str | None = None,
) -> _Element:
    """A new last child of `parent`.

    Args:
        parent: where it goes.
        tag: its name without namespace, as in QTI 3.0.
        attributes: by name, as in QTI 3.0; values are cleaned. Those of ARIA are left out where there are none.
        text: its text; cleaned.
        space: its namespace, in which names are as given; left out inside an item or a test.
    """
    # a large part of all that an export does happens here, so names are looked up and not worked out again
    if space is None:
        around = str(parent.tag)
        element = etree.SubElement(parent, _element_name(around, tag))
        for name, value in (attributes or {}).items():
            named = _attribute_name(around, name)
            if named is not None:
                element.set(named, shown(one_line(value)))
        if text is not None:
            element.text = shown(text)
    else:
        element = etree.SubElement(parent, f"{{{space}}}{tag}")
        for name, value in (attributes or {}).items():
            element.set(name, one_line(value))
        if text is not None:
            element.text = clean(text)
    return element


@cache
def _element_name(parent: str, tag: str) -> str:
    """The qualified name of an element in the generation of its parent."""
    generation = generation_of(parent)
    return f"{{{generation.items}}}{generation.name(tag)}"


@cache
def _attribute_name(parent: str, name: str) -> str | None:
    """The name of an attribute in the generation of a parent; None where it is left out."""
    generation = generation_of(parent)
    return generation.name(name) if generation.aria or not name.startswith("aria-") else None


def add_content_body(parent: _Element) -> _Element:
    """Where the text of feedback or of a rubric goes: an element of its own, or `parent` itself."""
    return add(parent, "qti-content-body") if generation_of(str(parent.tag)).content_bodies else parent


def document(top: _Element) -> bytes:
    """A whole document in UTF-8, ending with a line end."""
    return written(etree.tostring(top, xml_declaration=True, encoding="UTF-8")) + b"\n"


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
