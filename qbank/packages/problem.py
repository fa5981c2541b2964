"""One thing that is wrong with a package, and where."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Problem", "shown"]

_LONGEST = 300


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that is not as it should be.

    Attributes:
        place: the member, with a line where one is known, or an item's identifier.
        message: what is wrong, in one sentence.
    """

    place: str
    message: str

    def __str__(self) -> str:
        return f"{shown(self.place)}: {shown(self.message)}"


def shown(text: str, *, longest: int | None = _LONGEST) -> str:
    r"""Text from a package, made fit for a terminal: one line, of bounded length, and no character that steers it.

    Args:
        text: any text.
        longest: how many characters of it are shown; None for all.

    >>> shown("a\x1b[2Jb\n")
    'a?[2Jb?'
    """
    short = text if longest is None or len(text) <= longest else text[:longest] + "..."
    return "".join(letter if letter.isprintable() else "?" for letter in short)
