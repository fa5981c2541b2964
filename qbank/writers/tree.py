"""Documents as light trees: an element is its name, its attributes as they will be written, and what is inside it.

    root, add, ... --> Element --document--> bytes

Making an element of lxml costs many times what writing its text costs, and an export makes more than a hundred for each
item. Here every text from outside is cleaned and escaped when it comes in, so that writing a tree is joining texts. The
result is byte for byte what lxml writes for the same tree, which the tests hold as a law.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache

from qbank.maths.notation.mathml import escaped, quoted
from qbank.writers.characters import clean, is_plain, one_line, shown

__all__ = [
    "DECLARATION",
    "XSI_LOCATION",
    "Element",
    "Markup",
    "add",
    "attribute",
    "content",
    "document",
    "indented",
    "inline",
    "root",
]

#: how a document begins
DECLARATION = "<?xml version='1.0' encoding='UTF-8'?>\n"

XSI_LOCATION = "xsi:schemaLocation"
_XSI = "http://www.w3.org/2001/XMLSchema-instance"


class Markup(str):
    """Whole elements as text, well-formed, with every text from outside in it escaped."""

    __slots__ = ()


class Element:
    """An element that is being put together.

    Attributes:
        name: as it is written, with its prefix if it has one.
        attributes: as they are written, each after a blank.
        parts: what is inside: elements, markup, and text as it is written.
    """

    __slots__ = ("attributes", "name", "parts")

    def __init__(self, name: str, attributes: str = "") -> None:
        self.name = name
        self.attributes = attributes
        self.parts: list[Element | str] = []

    def set(self, name: str, value: str) -> None:
        """Append an attribute that is not there yet; its value is escaped, and else taken as it is.

        Raises:
            ValueError: the value has a character that XML forbids.
        """
        self.attributes += f' {name}="{quoted(value)}"'

    @property
    def children(self) -> list[Element]:
        """The elements directly inside that are not markup."""
        return [part for part in self.parts if isinstance(part, Element)]

    def walk(self) -> Iterator[Element]:
        """This element and all below it, in the order of the document."""
        yield self
        for child in self.children:
            yield from child.walk()


#: what stands on lines of its own; all else is text, in any kind of string
_ON_LINES = (Element, Markup)


def root(tag: str, namespaces: Mapping[str, str], attributes: Mapping[str, str]) -> Element:
    """An element without parent that declares namespaces.

    Args:
        tag: its name.
        namespaces: by prefix, which is empty for names without one.
        attributes: by name; values are cleaned. The prefix of `XSI_LOCATION` is declared where it is among them.

    >>> inline(root("item", {"": "urn:a"}, {"ident": "a"}))
    '<item xmlns="urn:a" ident="a"/>'
    """
    made = Element(tag)
    spaces = {**namespaces, "xsi": _XSI} if XSI_LOCATION in attributes else namespaces
    for prefix, space in spaces.items():
        made.set(f"xmlns:{prefix}" if prefix else "xmlns", space)
    for name, value in attributes.items():
        made.set(name, shown(one_line(value)))
    return made


def add(
    parent: Element, tag: str, attributes: Mapping[str, str] | None = None, text: str | None = None
) -> Element:
    """A new last child of `parent`.

    Args:
        parent: where it goes.
        tag: its name.
        attributes: by name; values are cleaned and made one line.
        text: its text; cleaned.
    """
    made = Element(tag)
    if attributes:
        written = ""
        for name, value in attributes.items():
            # a title is all that students see of an attribute
            cleaned = attribute(value) if name == "title" or is_plain(value) else quoted(one_line(value))
            written += f' {name}="{cleaned}"'
        made.attributes = written
    if text is not None:
        made.parts.append(text if is_plain(text) else escaped(clean(text)))
    parent.parts.append(made)
    return made


def attribute(value: str) -> str:
    """Any text as the value of an attribute that students may see: cleaned, on one line."""
    return value if value.isidentifier() or is_plain(value) else quoted(shown(one_line(value)))


@lru_cache(maxsize=1024)
def content(text: str) -> str:
    """Any text as the text of an element that students see, cleaned; most stand in many items."""
    return str(escaped(shown(text)))


def inline(element: Element) -> str:
    """An element with all below it, without a blank that is not in it."""
    name, parts = element.name, element.parts
    if not parts:
        return f"<{name}{element.attributes}/>"
    inside = "".join([part if isinstance(part, str) else inline(part) for part in parts])
    return f"<{name}{element.attributes}>{inside}</{name}>"


def indented(element: Element, depth: int, *, closing: bool = False) -> str:
    """An element with all below it, each on a line of its own; what has text in it stays on its line.

    Args:
        element: what to write; its own indent is not written.
        depth: how deep it lies.
        closing: whether elements without anything inside have a closing tag nevertheless.
    """
    name, parts = element.name, element.parts
    start = f"<{name}{element.attributes}"
    if not parts:
        return f"{start}></{name}>" if closing else f"{start}/>"
    if not isinstance(parts[0], _ON_LINES):
        return f"{start}>{''.join(map(str, parts))}</{name}>"
    end = "\n" + "  " * depth
    line = end + "  "
    inside = line.join(
        [part if isinstance(part, str) else indented(part, depth + 1, closing=closing) for part in parts]
    )
    return f"{start}>{line}{inside}{end}</{name}>"


def document(text: str) -> bytes:
    """A whole document in UTF-8, ending with a line end.

    Args:
        text: its root element as text.
    """
    return f"{DECLARATION}{text}\n".encode()
