"""A deck that a format cannot hold: where, what, and how to mend it."""

from __future__ import annotations

__all__ = ["RefusalError", "too_few"]


class RefusalError(ValueError):
    """A deck that cannot be written in a format.

    Attributes:
        where: the item, section or identifier that is in the way.
        what: what is wrong with it.
        hint: how to mend it.

    >>> print(RefusalError("item-1", "it has too many marks", "give it fewer"))
    item-1: it has too many marks
        hint: give it fewer
    """

    def __init__(self, where: str, what: str, hint: str) -> None:
        self.where, self.what, self.hint = where, what, hint
        super().__init__(f"{where}: {what}\n    hint: {hint}")


def too_few(section: str, wanted: int, found: int) -> RefusalError:
    """The refusal of a section that deals more items than it has."""
    what = f"{wanted} items are to be dealt, but there are {found}"
    return RefusalError(f"section {section}", what, "deal fewer, or make more clones")
