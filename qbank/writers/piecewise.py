"""A long document, written from its start to its end, whose bytes can be taken away in between."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from qbank.writers.tree import DECLARATION, Element, indented

__all__ = ["Piecewise"]

#: so many texts are worth taking away
_MANY = 16


class Piecewise:
    """One document, in pieces.

    out = Piecewise()
    with out.inside(top):
        out.write(tree, 1)
        if out.is_long:
            yield out.taken()
        out.line(0)
    yield out.end()
    """

    def __init__(self) -> None:
        self._pieces = [DECLARATION]

    @contextmanager
    def inside(self, top: Element) -> Iterator[None]:
        """A context in which what is inside `top` is written; `top` gives its name and attributes."""
        self._pieces.append(b"<%b%b>" % (top.name, top.attributes))
        yield
        self._pieces.append(b"</%b>" % top.name)

    def line(self, depth: int) -> None:
        """A line end, and the indent of what follows."""
        self._pieces.append(b"\n" + b"  " * depth)

    def write(self, element: Element, depth: int) -> None:
        """An element with all below it, indented, on lines of its own."""
        self.line(depth)
        self._pieces.append(indented(element, depth, closing=True))

    def write_text(self, text: bytes, depth: int) -> None:
        """The same for an element that is text already, with its indent from its second line on."""
        self._pieces.append(b"\n%b%b" % (b"  " * depth, text))

    @property
    def is_long(self) -> bool:
        """Whether it is time to take away what was written."""
        return len(self._pieces) >= _MANY

    def taken(self) -> bytes:
        """What was written since the last time."""
        data = b"".join(self._pieces)
        self._pieces.clear()
        return data

    def end(self) -> bytes:
        """The same, at the end of the document."""
        self._pieces.append(b"\n")
        return self.taken()
