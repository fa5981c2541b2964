"""Common Cartridge: parallel tests ready to be set, or one bank from which the system deals.

The profile knows no choice among items. As tests, each holds as many clones of every template as a student is dealt, and
all clones are shared out to tests of equal build. As a bank, it holds every clone, filed under its template.

The profile knows one section, too: those of a declared test are written one after the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain, islice
from typing import TypeVar

from qbank.items.deck import Deck, Section
from qbank.items.item import Item
from qbank.items.sharing import parallel_forms
from qbank.writers.artifact import Artifact
from qbank.writers.options import Options
from qbank.writers.origin import source_files
from qbank.writers.qti.names import Register
from qbank.writers.qti12.document import Cover, Group, assessment_pieces, bank_pieces, cover_of
from qbank.writers.qti12.manifest import MANIFEST_PATH, Resource, cartridge, manifest
from qbank.writers.qti12.names import CARTRIDGE
from qbank.writers.refusal import RefusalError, too_few

__all__ = ["mark", "package"]

_T = TypeVar("_T")


def package(deck: Deck, options: Options) -> Iterator[Artifact]:
    """The files of a cartridge.

    Args:
        deck: what to write.
        options: tests or a bank, and the version of the cartridge.

    Yields:
        The documents, then the deck's source, then the manifest.

    Raises:
        RefusalError: there is no item, a section deals more items than it has, or identifiers are no names or not all
            different.
    """
    register = Register()
    resources: list[Resource] = []
    documents = _bank if options.purpose == "bank" else _tests
    for resource, pieces in documents(deck, register):
        resources.append(resource)
        register.add(resource.identifier)
        for piece in pieces:
            yield Artifact(resource.path, piece)
    # not in the manifest: what is named there may become a file that students can open
    yield from source_files(deck)
    yield Artifact(MANIFEST_PATH, manifest(deck, resources, cartridge(options.cartridge)))


def mark(options: Options) -> str:
    """What a file's name says of options other than the usual ones.

    >>> mark(Options(purpose="bank")), mark(Options(cartridge="1.3"))
    ('-bank', '-1.3')
    """
    version = "" if options.cartridge == "1.1" else f"-{options.cartridge}"
    return version + ("-bank" if options.purpose == "bank" else "")


def _bank(deck: Deck, register: Register) -> Iterator[tuple[Resource, Iterator[bytes]]]:
    identifier = f"bank-{deck.bank}"
    # the profile forbids to list a bank among what a student may open
    resource = Resource(identifier=identifier, path="bank.xml", title=None, kind="question-bank")
    filed = ((section.title, item) for section in deck.sections for item in section.items)
    questions = ((title, _registered(register, item)) for title, item in _some(filed))
    yield resource, bank_pieces(f"objects-{deck.bank}", questions, CARTRIDGE, shuffle=deck.shuffle)


def _tests(deck: Deck, register: Register) -> Iterator[tuple[Resource, Iterator[bytes]]]:
    if deck.papers:
        yield from _papers(deck, register)
        return
    for number, items in enumerate(_forms(deck.sections), 1):
        identifier = f"test-{deck.bank}-{number}"
        title = f"{deck.title} ({number})"
        resource = Resource(identifier=identifier, path=f"tests/{number}.xml", title=title, kind="assessment")
        group = Group(
            identifier=f"section-{deck.bank}-{number}",
            title=None,
            items=(_registered(register, item) for item in _some(iter(items))),
            pick=None,
            shuffle=deck.shuffle,
            shuffle_items=False,
        )
        yield resource, assessment_pieces(Cover(identifier=identifier, title=title), (group,), CARTRIDGE)


def _papers(deck: Deck, register: Register) -> Iterator[tuple[Resource, Iterator[bytes]]]:
    """Declared tests: their forms, or as many forms as their pools give."""
    forms = (form for paper in deck.papers for form in ((paper,) if paper.form else parallel_forms(paper)))
    for paper in forms:
        path = f"tests/{paper.form.lower()}.xml"
        group = Group(
            identifier=f"section-{paper.identifier.removeprefix('test-')}",
            title=None,
            items=(_registered(register, item) for section in paper.sections for item in section.items),
            pick=None,
            shuffle=deck.shuffle,
            shuffle_items=False,
        )
        resource = Resource(identifier=paper.identifier, path=path, title=paper.title, kind="assessment")
        yield resource, assessment_pieces(cover_of(paper), (group,), CARTRIDGE)


def _registered(register: Register, item: Item) -> Item:
    register.add(item.identifier)
    return item


def _forms(sections: tuple[Section, ...]) -> Iterator[Iterable[Item]]:
    """The items of each test. Clones too few for another test of the same build are left over.

    Only the items of one test are held at a time; a section that deals all it has goes whole into the only test.
    """
    sources = tuple(iter(section.items) for section in sections)
    first = True
    while first or all(section.pick is not None for section in sections):
        parts: list[Iterable[Item]] = []
        for section, source in zip(sections, sources, strict=True):
            if section.pick is None:
                parts.append(source)
                continue
            part = tuple(islice(source, section.pick))
            if len(part) < section.pick and not first:
                return
            if len(part) < section.pick:
                raise too_few(section.template, section.pick, len(part))
            parts.append(part)
        yield chain.from_iterable(parts)
        first = False


def _some(items: Iterator[_T]) -> Iterator[_T]:
    """The same, after a look whether there are any: the schema wants at least one item."""
    for first in items:
        return chain((first,), items)
    raise RefusalError("the package", "there is no item to write", "export at least one template")
