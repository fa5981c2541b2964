"""QTI 1.2: one document for all items, plain or in a Common Cartridge.

`package`, here, writes a plain package: one test with a section for each template, which deals. `cartridge.package`
writes the same items into tests without a choice, or into a bank. Documents are written piece by piece.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from qbank.items.deck import Deck
from qbank.items.item import Item
from qbank.writers import phrases
from qbank.writers.artifact import Artifact
from qbank.writers.origin import source_files
from qbank.writers.qti.names import Register
from qbank.writers.qti12.document import Group, assessment_pieces
from qbank.writers.qti12.manifest import CONTENT, MANIFEST_PATH, Resource, manifest
from qbank.writers.qti12.names import PLAIN

__all__ = ["package"]

_PATH = "questions.xml"


def package(deck: Deck) -> Iterator[Artifact]:
    """The files of a plain package: the document and the manifest.

    Args:
        deck: what to write.

    Yields:
        The document in pieces, then the deck's source, then the manifest.

    Raises:
        ValueError: identifiers are no names or not all different, or a section deals more items than it has.
    """
    register = Register()
    identifier = register.add(f"test-{deck.bank}")
    groups = tuple(
        Group(
            identifier=register.add(f"section-{section.template}"),
            title=phrases.part(number),
            items=_checked(section.items, section.pick, section.template, register),
            pick=section.pick,
            shuffle=deck.shuffle,
        )
        for number, section in enumerate(deck.sections, 1)
    )
    for piece in assessment_pieces(identifier, deck.title, groups, PLAIN):
        yield Artifact(_PATH, piece)
    # not in the manifest: what is named there may become a file that students can open
    yield from source_files(deck)
    resource = Resource(identifier=f"resource-{deck.bank}", path=_PATH, title=deck.title)
    yield Artifact(MANIFEST_PATH, manifest(deck, (resource,), CONTENT))


def _checked(items: Iterable[Item], pick: int | None, template: str, register: Register) -> Iterator[Item]:
    """The items, each registered; complains at their end if they are too few."""
    count = 0
    for item in items:
        register.add(item.identifier)
        yield item
        count += 1
    if pick is not None and pick > count:
        raise ValueError(f"section {template}: {pick} items are to be dealt, but there are {count}")
