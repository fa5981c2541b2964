"""A bank made into a deck: a section of clones for each template, drawn again each time they are asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from qbank.bank.model import Bank, Template
from qbank.items.cloning import PassedOver, clones, unheard
from qbank.items.deck import Deck, Paper, Section
from qbank.items.item import Item
from qbank.items.source import Source

__all__ = ["deal", "deck_of"]


def deal(
    bank: Bank,
    *,
    count: int,
    seed: int,
    templates: tuple[Template, ...] | None = None,
    pick: int | None = 1,
    watch: Callable[[], object] = lambda: None,
    passed_over: PassedOver = unheard,
    file: tuple[str, bytes] | None = None,
) -> Deck:
    """The deck of a bank.

    Args:
        bank: what to draw from.
        count: clones of each template.
        seed: of the draw.
        templates: those to take, in this order; all of the bank when None.
        pick: how many clones of a section each student is dealt; None for all.
        watch: called after each item is built, for a progress bar.
        passed_over: told of each draw that made no item, and why.
        file: the name and the bytes of the bank file, for the deck to carry its source; None to leave it out.
    """
    sections = (
        Section(
            template=template.identifier,
            title=template.title,
            items=_Clones(
                bank=bank, template=template, count=count, seed=seed, watch=watch, passed_over=passed_over
            ),
            pick=pick,
            pictured=template.application is not None,
        )
        for template in (bank.templates if templates is None else templates)
    )
    names = None if templates is None else tuple(one.identifier for one in templates)
    return deck_of(
        bank,
        seed,
        tuple(sections),
        source=None
        if file is None
        else Source(name=file[0], content=file[1], seed=seed, count=count, templates=names, pick=pick),
    )


def deck_of(
    bank: Bank,
    seed: int,
    sections: tuple[Section, ...],
    *,
    source: Source | None,
    shuffle: bool = True,
    papers: tuple[Paper, ...] = (),
    stem: str = "",
) -> Deck:
    """Sections of a bank's items as a deck, which says what the bank says of itself.

    Args:
        bank: where the items are from.
        seed: what they were drawn with.
        sections: of items.
        source: as `Deck` has it, and so are the others.
        shuffle: see there.
        papers: see there.
        stem: see there.
    """
    return Deck(
        bank=bank.identifier,
        title=bank.title,
        language=bank.language,
        licence=bank.licence,
        authors=bank.authors,
        version=bank.version,
        seed=str(seed),
        sections=sections,
        shuffle=shuffle,
        source=source,
        papers=papers,
        stem=stem,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Clones:
    """Clones that are drawn whenever they are iterated, so that none of them has to be kept."""

    bank: Bank
    template: Template
    count: int
    seed: int
    watch: Callable[[], object]
    passed_over: PassedOver

    def __iter__(self) -> Iterator[Item]:
        for item in clones(self.bank, self.template, self.count, self.seed, passed_over=self.passed_over):
            yield item
            self.watch()
