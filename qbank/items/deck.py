"""The deck: the drawn items of a bank, section by section, with what a package says of itself.

A deck is what a writer is given. A section may hold its items as a tuple or as something that draws them one after
the other, so that a deck of a hundred thousand items never lies in memory as a whole.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from qbank.items.item import Item
from qbank.items.source import Source

__all__ = ["Deck", "Section"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The clones of one item template.

    Attributes:
        template: identifier of the template.
        title: shown to people.
        items: the clones. An iterator is used up by the first writer; for several formats give a tuple, or an
            object that draws again each time it is iterated.
        pick: how many of the items each student is dealt; None for all of them.

    Raises:
        ValueError: `pick` is less than one.
    """

    template: str
    title: str
    items: Iterable[Item]
    pick: int | None = 1

    def __post_init__(self) -> None:
        if self.pick is not None and self.pick < 1:
            raise ValueError("a section deals at least one item")


@dataclass(frozen=True, slots=True, kw_only=True)
class Deck:
    """The items of one export.

    Attributes:
        bank: identifier of the bank.
        title: of the bank, shown to people.
        language: BCP 47 tag of all texts.
        licence: SPDX identifier.
        authors: names.
        version: of the bank.
        seed: what the items were drawn with, as text.
        sections: one for each template.
        shuffle: whether the order of options and of items is left to the reader at delivery.
        source: what it was drawn from, to be carried in the package; None to leave it out.
    """

    bank: str
    title: str
    language: str
    licence: str
    authors: tuple[str, ...]
    version: str
    seed: str
    sections: tuple[Section, ...]
    shuffle: bool = True
    source: Source | None = None
