"""What documents and packages say of themselves: pairs of label and entry, and LOM."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from qbank.items.deck import Deck
from qbank.writers.authorship import card, licence_line
from qbank.writers.characters import one_line
from qbank.writers.tree import Element, add, lasting, root

__all__ = ["add_fields", "lom"]


def add_fields(parent: Element, entries: Mapping[str, str]) -> None:
    """Append `qtimetadata` with its fields."""
    parent.parts.append(_fields(*entries.items()))


@lru_cache(maxsize=64)
def _fields(*entries: tuple[str, str]) -> Element:
    """The same for all clones of a template."""
    fields = Element(b"qtimetadata")
    for label, entry in entries:
        field = add(fields, "qtimetadatafield")
        add(field, "fieldlabel", text=label)
        add(field, "fieldentry", text=entry)
    return lasting(fields)


def lom(deck: Deck, namespace: str) -> Element:
    """Title, language, version, authors and licence of a deck as LOM (IEEE 1484.12.1), in what cartridges allow of it."""
    top = root("lom", {"": namespace}, {})
    general = add(top, "general")
    _string(add(general, "title"), deck.title, deck.language)
    add(general, "language", text=deck.language)
    _string(add(general, "description"), f"Version {deck.version}", "en")
    # without a contribution the schema wants none of it
    cycle = add(top, "lifeCycle") if deck.authors else top
    for author in deck.authors:
        contribution = add(cycle, "contribute")
        add(add(contribution, "role"), "value", text="author")
        add(contribution, "entity", text=card(author))
    rights = add(top, "rights")
    add(add(rights, "copyrightAndOtherRestrictions"), "value", text="yes")
    _string(add(rights, "description"), licence_line(deck.licence), "en")
    return top


def _string(parent: Element, text: str, language: str) -> None:
    add(parent, "string", {"language": language}, one_line(text))
