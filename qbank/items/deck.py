"""The deck: the drawn items of a bank, section by section, with what a package says of itself.

    Deck -- sections: a pool of each template, from which each student is dealt some
         `- papers:  the tests that are set from them -- parts: what a student sees -- their sections

A deck is what a writer is given. A section may hold its items as a tuple or as something that draws them one after
the other, so that a deck of a hundred thousand items never lies in memory as a whole.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from qbank.items.item import Item
from qbank.items.source import Source

__all__ = ["Deck", "Paper", "Part", "Section"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The clones of one item template.

    Attributes:
        template: identifier of the template.
        title: shown to people.
        items: the clones. An iterator is used up by the first writer; for several formats give a tuple, or an
            object that draws again each time it is iterated.
        pick: how many of the items each student is dealt; None for all of them.
        name: what the section is called where several are of one template; nothing for the template's own name.
        pictured: whether its items have figures.

    Raises:
        ValueError: `pick` is less than one.
    """

    template: str
    title: str
    items: Iterable[Item]
    pick: int | None = 1
    name: str = ""
    pictured: bool = False

    def __post_init__(self) -> None:
        if self.pick is not None and self.pick < 1:
            raise ValueError("a section deals at least one item")


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A section of a test as students see it.

    Attributes:
        identifier: unique among the parts of the deck.
        title: shown to students.
        marks: the most that a student can get.
        rising: whether its items go from easy to hard.
        shuffle: whether the order of its items is left to the reader at delivery; never, where they rise.
        sections: where its items come from, each of one template; their items lie in tuples.
    """

    identifier: str
    title: str
    marks: int
    rising: bool
    shuffle: bool
    sections: tuple[Section, ...]

    @property
    def deals(self) -> bool:
        """Whether students are dealt some of the items rather than all."""
        return any(section.pick is not None for section in self.sections)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A test that can be set, or one of its parallel forms.

    Attributes:
        identifier: unique in the deck.
        form: the letter of a form; nothing for a test without forms.
        title: shown to students; it tells the form.
        instructions: what students read before they begin; may be empty.
        minutes: time limit, None for none.
        parts: in the order of the test.
    """

    identifier: str
    form: str
    title: str
    instructions: str
    minutes: int | None
    parts: tuple[Part, ...]

    @property
    def marks(self) -> int:
        """The most that a student can get."""
        return sum(part.marks for part in self.parts)

    @property
    def sections(self) -> tuple[Section, ...]:
        """Where all its items come from."""
        return tuple(section for part in self.parts for section in part.sections)


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
        sections: one for each template; of tests, all those of the papers.
        shuffle: whether the order of options and of items is left to the reader at delivery.
        source: what it was drawn from, to be carried in the package; None to leave it out.
        papers: the tests that are set; without any, all sections together are one test.
        stem: how names of files begin that hold the deck; nothing for the bank's identifier.
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
    papers: tuple[Paper, ...] = ()
    stem: str = ""
