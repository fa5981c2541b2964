"""What writes layouts in one notation: a function for each kind of box, whose text is noted on the box.

The parts of an expression that are equal share one box (see `hand`), and most parts of a line of working stand in the
line before it too, so nearly every box has been written when it is met.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, get_type_hints

from qbank.maths.notation.layout import Layout

__all__ = ["Pen"]

_Write = TypeVar("_Write", bound=Callable[[Any], str])


class Pen:
    """A function from boxes to text, put together from one for each kind of box.

    >>> from qbank.maths.notation.layout import Digits
    >>> write = Pen("LaTeX", "_latex")
    >>> @write.register
    ... def _digits(box: Digits) -> str:
    ...     return box.text
    >>> write(Digits("12"))
    '12'
    """

    __slots__ = ("_notation", "_place", "_writes")

    def __init__(self, notation: str, place: str) -> None:
        """A pen that writes nothing yet.

        Args:
            notation: what it is called in an error.
            place: the slot of `layout.Layout` where it notes its text; no other pen has the same.
        """
        self._writes: dict[type[Layout], Callable[[Any], str]] = {}
        self._notation = notation
        self._place = place

    def register(self, write: _Write) -> _Write:
        """Add the function for one kind of box, which is told by the type of its parameter `box`."""
        self._writes[get_type_hints(write)["box"]] = write
        return write

    @property
    def kinds(self) -> frozenset[type[Layout]]:
        """The kinds of box that it writes."""
        return frozenset(self._writes)

    def __call__(self, box: Layout) -> str:
        """The text of a box.

        Raises:
            TypeError: there is no function for its kind.
        """
        text: str | None = getattr(box, self._place, None)
        if text is None:
            write = self._writes.get(type(box))
            if write is None:
                raise TypeError(f"no {self._notation} for {type(box).__name__}")
            text = write(box)
            object.__setattr__(box, self._place, text)
        return text
