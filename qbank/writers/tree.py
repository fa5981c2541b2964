"""Documents as light trees: an element is its name, its attributes as they will be written, and what is inside it.

    root, add, ... --> Element --document--> bytes

Making an element of lxml costs many times what writing its text costs, and an export makes more than a hundred for each
item. Here every text from outside is cleaned, escaped and encoded when it comes in, so that writing a tree is joining
bytes. Text is `str` as long as it may hold anything, and `bytes` once it is written: no text from outside can be
taken for what is written, as the two do not mix. The result is byte for byte what lxml writes for the same tree, which
the tests hold as a law.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache, lru_cache

from qbank.maths.notation.mathml import escaped, quoted
from qbank.writers.characters import clean, is_plain, one_line, shown

__all__ = [
    "DECLARATION",
    "GAP",
    "XSI_LOCATION",
    "Element",
    "Markup",
    "add",
    "attribute",
    "content",
    "document",
    "indented",
    "inline",
    "lasting",
    "pattern",
    "put_inline",
    "root",
]

#: how a document begins
DECLARATION = b"<?xml version='1.0' encoding='UTF-8'?>\n"

#: stands in an element where something is put in later; no text from outside has it, as XML forbids it
GAP = b"\x00"

XSI_LOCATION = "xsi:schemaLocation"
_XSI = "http://www.w3.org/2001/XMLSchema-instance"


class Markup(bytes):
    """Whole elements as they are written, each of which may stand on a line of its own."""

    __slots__ = ()


class Element:
    """An element that is being put together.

    Attributes:
        name: as it is written, with its prefix if it has one.
        attributes: as they are written, each after a blank.
        parts: what is inside: elements, and what is written already.
        texts: how it was written, by its depth and whether with closing tags; None unless it is `lasting`.
    """

    __slots__ = ("attributes", "name", "parts", "texts")

    def __init__(self, name: bytes, attributes: bytes = b"") -> None:
        self.name = name
        self.attributes = attributes
        self.parts: list[Element | bytes] = []
        self.texts: dict[tuple[int, bool], bytes] | None = None

    def set(self, name: str, value: str) -> None:
        """Append an attribute that is not there yet; its value is escaped, and else taken as it is.

        Raises:
            ValueError: the value has a character that XML forbids.
        """
        self.attributes += f' {name}="{quoted(value)}"'.encode()

    @property
    def children(self) -> list[Element]:
        """The elements directly inside that are not written yet."""
        return [part for part in self.parts if isinstance(part, Element)]

    def walk(self) -> Iterator[Element]:
        """This element and all below it, in the order of the document."""
        yield self
        for child in self.children:
            yield from child.walk()


def lasting(element: Element) -> Element:
    """An element that may stand in many documents: nothing more is put into it, and how it is written is remembered.

    Returns:
        The element.
    """
    element.texts = {}
    return element


#: what stands on lines of its own; all else is text
_ON_LINES = (Element, Markup)


def root(tag: str, namespaces: Mapping[str, str], attributes: Mapping[str, str]) -> Element:
    """An element without parent that declares namespaces.

    Args:
        tag: its name.
        namespaces: by prefix, which is empty for names without one.
        attributes: by name; values are cleaned. The prefix of `XSI_LOCATION` is declared where it is among them.

    >>> inline(root("item", {"": "urn:a"}, {"ident": "a"}))
    b'<item xmlns="urn:a" ident="a"/>'
    """
    made = Element(_name(tag))
    spaces = {**namespaces, "xsi": _XSI} if XSI_LOCATION in attributes else namespaces
    for prefix, space in spaces.items():
        made.set(f"xmlns:{prefix}" if prefix else "xmlns", space)
    for name, value in attributes.items():
        made.set(name, shown(one_line(value)))
    return made


def add(
    parent: Element,
    tag: str,
    attributes: Mapping[str, str] | None = None,
    text: str | None = None,
    *,
    unique: bool = False,
) -> Element:
    """A new last child of `parent`.

    Args:
        parent: where it goes.
        tag: its name.
        attributes: by name; values are cleaned and made one line.
        text: its text; cleaned.
        unique: whether no other element has the same attributes, so that they need not be remembered.
    """
    write = _attributes if unique else _known_attributes
    made = Element(_name(tag), write(*attributes.items()) if attributes else b"")
    if text is not None:
        made.parts.append(text.encode() if is_plain(text) else escaped(clean(text)).encode())
    parent.parts.append(made)
    return made


#: names are ours, and few
_name = cache(str.encode)


def _attributes(*attributes: tuple[str, str]) -> bytes:
    """Attributes as they are written."""
    written = ""
    for name, value in attributes:
        # a title is all that students see of an attribute
        cleaned = attribute(value) if name == "title" or is_plain(value) else quoted(one_line(value))
        written += f' {name}="{cleaned}"'
    return written.encode()


#: most stand in many items
_known_attributes = lru_cache(maxsize=1024)(_attributes)


def attribute(value: str) -> str:
    """Any text as the value of an attribute that students may see: cleaned, on one line."""
    return value if value.isidentifier() or is_plain(value) else quoted(shown(one_line(value)))


@lru_cache(maxsize=1024)
def content(text: str) -> bytes:
    """Any text as the text of an element that students see, cleaned; most stand in many items."""
    return escaped(shown(text)).encode()


def inline(element: Element) -> bytes:
    """An element with all below it, without a blank that is not in it."""
    pieces: list[bytes] = []
    put_inline(element, pieces)
    return b"".join(pieces)


def put_inline(element: Element, pieces: list[bytes]) -> None:
    """The same as pieces of a longer text, which is joined once and not at every level.

    Args:
        element: what to write.
        pieces: where it goes, at the end.
    """
    name, parts = element.name, element.parts
    if not parts:
        pieces.append(b"<%b%b/>" % (name, element.attributes))
        return
    pieces += (b"<", name, element.attributes, b">")
    for part in parts:
        if isinstance(part, bytes):
            pieces.append(part)
        else:
            put_inline(part, pieces)
    pieces += (b"</", name, b">")


def indented(element: Element, depth: int, *, closing: bool = False) -> bytes:
    """An element with all below it, each on a line of its own; what has text in it stays on its line.

    Args:
        element: what to write; its own indent is not written.
        depth: how deep it lies.
        closing: whether elements without anything inside have a closing tag nevertheless.
    """
    texts = element.texts
    if texts is None:
        return _indented(element, depth, closing=closing)
    text = texts.get((depth, closing))
    if text is None:
        text = texts[depth, closing] = _indented(element, depth, closing=closing)
    return text


def _indented(element: Element, depth: int, *, closing: bool) -> bytes:
    name, attributes, parts = element.name, element.attributes, element.parts
    if not parts:
        return b"<%b%b></%b>" % (name, attributes, name) if closing else b"<%b%b/>" % (name, attributes)
    if not isinstance(parts[0], _ON_LINES):
        return inline(element)
    end = b"\n" + b"  " * depth
    line = end + b"  "
    deeper = depth + 1
    inside = line.join(
        [indented(part, deeper, closing=closing) if isinstance(part, Element) else part for part in parts]
    )
    return b"<%b%b>%b%b%b</%b>" % (name, attributes, line, inside, end, name)


def pattern(element: Element, depth: int) -> bytes:
    """An element that stands in many places with other things in its gaps, for the operator `%` to fill: a `%b` for each `GAP`.

    It is written as by `indented`, with closing tags.

    >>> pattern(Element(b"file", b' href="' + GAP + b'"'), 0) % b"a.xml"
    b'<file href="a.xml"></file>'
    """
    return indented(element, depth, closing=True).replace(b"%", b"%%").replace(GAP, b"%b")


def document(*written: bytes) -> bytes:
    """A whole document in UTF-8, ending with a line end.

    Args:
        written: its root element, in pieces or whole.
    """
    return b"".join((DECLARATION, *written, b"\n"))
