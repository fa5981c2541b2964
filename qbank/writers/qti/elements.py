"""Elements of items and tests, asked for by their names in QTI 3.0.

They are written as the generation says, and show formulas as the package does: an element knows both, and hands them on to
what is put into it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache, lru_cache
from typing import TypeAlias

from qbank.writers import tree
from qbank.writers.formulas import AS_MATHML, Formulas
from qbank.writers.qti.generation import Generation

__all__ = ["Frame", "QtiElement", "add", "add_content_body", "frame", "qti_root"]

#: what is written before something and after it
Frame: TypeAlias = tuple[bytes, bytes]


class QtiElement(tree.Element):
    """An element of an item or a test.

    Attributes:
        generation: the generation of QTI.
        formulas: how formulas in it are shown.
    """

    __slots__ = ("formulas", "generation")

    def __init__(self, name: bytes, attributes: bytes, generation: Generation, formulas: Formulas) -> None:
        self.name = name
        self.attributes = attributes
        self.parts = []
        self.texts = None
        self.generation = generation
        self.formulas = formulas


def qti_root(
    generation: Generation, tag: str, attributes: Mapping[str, str], formulas: Formulas = AS_MATHML
) -> QtiElement:
    """The root of an item or a test, which says where its schema is.

    Args:
        generation: the generation of QTI.
        tag: its name in 3.0.
        attributes: by their names in 3.0; the first names it, and the others are alike in many.
        formulas: how formulas are shown.
    """
    name, *alike = attributes.items()
    written = _located(generation) + _attributes(generation, name) + _known_attributes(generation, *alike)
    return QtiElement(_element_name(generation, tag), written, generation, formulas)


@cache
def _located(generation: Generation) -> bytes:
    """The attributes with which every root begins."""
    located = {tree.XSI_LOCATION: generation.item_locations()}
    return tree.root("", {"": generation.items}, located).attributes


def add(
    parent: QtiElement,
    tag: str,
    attributes: Mapping[str, str] | None = None,
    text: str | None = None,
    *,
    unique: bool = False,
) -> QtiElement:
    """A new last child of `parent`.

    Args:
        parent: where it goes.
        tag: its name in QTI 3.0.
        attributes: by name, as in QTI 3.0; values are cleaned. Those of ARIA are left out where there are none.
        text: its text; cleaned.
        unique: whether no other element has the same attributes, so that they need not be remembered.
    """
    generation = parent.generation
    write = _attributes if unique else _known_attributes
    written = write(generation, *attributes.items()) if attributes else b""
    made = QtiElement(_element_name(generation, tag), written, generation, parent.formulas)
    if text is not None:
        made.parts.append(tree.content(text))
    parent.parts.append(made)
    return made


@cache
def _element_name(generation: Generation, tag: str) -> bytes:
    return generation.name(tag).encode()


def _attributes(generation: Generation, *attributes: tuple[str, str]) -> bytes:
    """Attributes as they are written."""
    written = ""
    for name, value in attributes:
        if generation.aria or not name.startswith("aria-"):
            written += f' {generation.name(name)}="{tree.attribute(value)}"'
    return written.encode()


#: most stand in many items
_known_attributes = lru_cache(maxsize=1024)(_attributes)


def add_content_body(parent: QtiElement) -> QtiElement:
    """Where the text of feedback or of a rubric goes: an element of its own, or `parent` itself."""
    return add(parent, "qti-content-body") if parent.generation.content_bodies else parent


@lru_cache(maxsize=1024)
def frame(generation: Generation, build: Callable[..., QtiElement], *shape: str) -> Frame:
    """Elements that are the same round many things, as they are written before each of them and after it.

    They are written on one line. What goes between is appended to the parts of an element, with the two texts round it.

    Args:
        generation: the generation of QTI.
        build: appends the elements to one, and returns that into which something goes, behind what is in it already.
        shape: its other arguments.

    >>> from qbank.writers.qti.generation import QTI3
    >>> frame(QTI3, lambda top, name: add(add(top, "p", text="So "), name), "em")
    (b'<p>So <em>', b'</em></p>')
    """
    top = QtiElement(b"", b"", generation, AS_MATHML)
    build(top, *shape).parts.append(tree.GAP)
    before, _, after = b"".join([tree.inline(child) for child in top.children]).partition(tree.GAP)
    return before, after
