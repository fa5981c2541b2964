"""Items whose every text is hostile, in packages of QTI 3.0, 2.2 and 2.1: the same checks for every kind of item."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from lxml import etree

from qbank.items.deck import Section
from qbank.items.item import Item, Response
from qbank.writers.archive import write_zip
from qbank.writers.qti import Generation, package
from qbank.writers.qti.item import item_document
from tests.writers.qti.test_package import HOSTILE
from tests.writers.sample_items import X, deck
from tests.writers.validating import validate


def hostile_item(item: Item, response: Response, text: str) -> Item:
    """An item with that text wherever there is text."""
    return replace(
        item,
        identifier="hostile",
        title=text,
        prompt=(text, X, text),
        response=response,
        working=tuple(replace(row, reason=text) for row in item.working),
    )


def check_texts_stay_texts(hostile: Callable[[str], Item], generation: Generation) -> None:
    """No hostile text makes another element than a tame one."""
    tame = [one.tag for one in etree.fromstring(item_document(hostile("t"), generation, shuffle=True)).iter()]
    for text in HOSTILE:
        wild = etree.fromstring(item_document(hostile(text), generation, shuffle=True))
        assert [one.tag for one in wild.iter()] == tame


def check_valid(
    items: Sequence[Item], hostile: Callable[[str], Item], generation: Generation, shared: Path, folder: Path
) -> None:
    """A package of the items and a hostile one is valid."""
    section = Section(template="t", title="t", items=(*items, hostile(HOSTILE[0])), pick=None)
    validate(shared, write_zip(package(deck(section), generation), folder / "p.zip"))
