"""The rules of one notation: for each kind of box a function that gives its text.

A writer asks them once for a box and notes the text on it. The parts of an expression that are equal share one box (see
`hand`), and most parts of a line of working stand in the line before it too, so nearly every box has been written when
it is met.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic, NoReturn, TypeVar, get_type_hints

from qbank.maths.notation.layout import Layout

__all__ = ["Rules"]

_Text = TypeVar("_Text", str, bytes)
_Box = TypeVar("_Box", bound=Layout)


class Rules(dict[type[Layout], Callable[[Any], _Text]], Generic[_Text]):
    """What writes each kind of box.

    >>> from qbank.maths.notation.layout import Digits
    >>> rules = Rules[str]("LaTeX")
    >>> @rules.register
    ... def _digits(box: Digits) -> str:
    ...     return box.text
    >>> rules[Digits](Digits("12"))
    '12'
    """

    __slots__ = ("_notation",)

    def __init__(self, notation: str) -> None:
        """No rules yet.

        Args:
            notation: what it is called in an error.
        """
        super().__init__()
        self._notation = notation

    def register(self, write: Callable[[_Box], _Text]) -> Callable[[_Box], _Text]:
        """Add the function for one kind of box, which is told by the type of its parameter `box`."""
        self[get_type_hints(write)["box"]] = write
        return write

    def __missing__(self, kind: type[Layout]) -> NoReturn:
        raise TypeError(f"no {self._notation} for {kind.__name__}")
