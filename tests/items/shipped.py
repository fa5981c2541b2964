"""Clones of the shipped bank, built once for all the tests of a process that look at them."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from qbank.cli.arguments import open_bank
from qbank.items.deck import Deck
from qbank.items.decking import deal
from qbank.items.item import Item

__all__ = ["shipped_deck", "shipped_items"]


@cache
def shipped_deck(count: int, seed: int) -> Deck:
    """So many clones of each template, kept; a deck otherwise draws them again each time it is gone through."""
    drawn = deal(open_bank(None), count=count, seed=seed)
    sections = tuple(replace(section, items=tuple(section.items)) for section in drawn.sections)
    return replace(drawn, sections=sections)


def shipped_items(count: int, seed: int) -> tuple[Item, ...]:
    """The items of that deck."""
    return tuple(item for section in shipped_deck(count, seed).sections for item in section.items)
