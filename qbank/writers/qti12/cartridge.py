"""Common Cartridge: parallel tests ready to be set, or one bank from which the system deals.

The profile knows no choice among items. As tests, each holds as many clones of every template as a student is dealt, and
all clones are shared out to tests of equal build. As a bank, it holds every clone, filed under its template.

The profile knows one section, too: those of a declared test are written one after the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import chain, islice
from typing import TypeVar

from qbank.items.deck import Deck, Section
from qbank.items.item import Item, Matching, WorkingTask
from qbank.items.sharing import parallel_forms
from qbank.writers.artifact import Artifact
from qbank.writers.figures import Figures
from qbank.writers.formulas import Formulas
from qbank.writers.options import Options, mark_of_mathematics
from qbank.writers.origin import source_files
from qbank.writers.pictures import Album
from qbank.writers.qti.names import Register
from qbank.writers.qti12.document import Cover, Group, assessment_pieces, bank_pieces, cover_of
from qbank.writers.qti12.manifest import MANIFEST_PATH, Resource, cartridge, manifest, pictures_identifier
from qbank.writers.qti12.matching import row_items
from qbank.writers.qti12.names import CARTRIDGE, Dialect
from qbank.writers.qti12.tasks import question_items
from qbank.writers.refusal import RefusalError, too_few

__all__ = ["mark", "package"]

_T = TypeVar("_T")

#: what stands for the place of the cartridge's files in an address in HTML, by the rules of the profile (from memory)
_BASE = "$IMS-CC-FILEBASE$/"


def package(deck: Deck, options: Options) -> Iterator[Artifact]:
    """The files of a cartridge.

    Args:
        deck: what to write.
        options: tests or a bank, the version of the cartridge, and how formulas are shown.

    Yields:
        The documents, each followed by figures and pictures that are new, then the deck's source, then the manifest.

    Raises:
        MissingRendererError: pictures are wanted, and nothing is there to draw them.
        RefusalError: there is no item, a section deals more items than it has, or identifiers are no names or not all
            different.
    """
    album = Album(options.picture, "styles") if options.math == "pictures" else None
    figures = Figures()
    dialect = replace(
        CARTRIDGE, formulas=Formulas(mode=options.math, album=album, folder=_BASE), figures=figures
    )
    register = Register()
    register.add(pictures_identifier(deck))
    resources: list[Resource] = []
    pictured = any(section.pictured for section in deck.sections)
    documents = _bank if options.purpose == "bank" else _tests
    for listed, pieces in documents(deck, register, dialect):
        resource = _beside_pictures(listed) if album is not None or pictured else listed
        resources.append(resource)
        register.add(resource.identifier)
        for piece in pieces:
            yield Artifact(resource.path, piece)
        yield from figures.files()
        if album is not None:
            yield from album.files()
    # not in the manifest: what is named there may become a file that students can open
    yield from source_files(deck)
    paths = (*figures.every_path, *(() if album is None else album.every_path))
    yield Artifact(MANIFEST_PATH, manifest(deck, resources, cartridge(options.cartridge), paths))


def _beside_pictures(resource: Resource) -> Resource:
    """The document at the top, so that pictures have one address, taken from there or from where the document lies."""
    return replace(resource, path=resource.path.replace("/", "-"))


def mark(options: Options) -> str:
    """What a file's name says of options other than the usual ones.

    >>> mark(Options(purpose="bank")), mark(Options(cartridge="1.3"))
    ('-bank', '-1.3')
    """
    version = "" if options.cartridge == "1.1" else f"-{options.cartridge}"
    return version + mark_of_mathematics(options) + ("-bank" if options.purpose == "bank" else "")


def _bank(deck: Deck, register: Register, dialect: Dialect) -> Iterator[tuple[Resource, Iterator[bytes]]]:
    identifier = f"bank-{deck.bank}"
    # the profile forbids to list a bank among what a student may open
    resource = Resource(identifier=identifier, path="bank.xml", title=None, kind="question-bank")
    filed = ((section.title, item) for section in deck.sections for item in section.items)
    questions = ((title, one) for title, item in _some(filed) for one in _questions(register, item))
    yield resource, bank_pieces(f"objects-{deck.bank}", questions, dialect, shuffle=deck.shuffle)


def _tests(deck: Deck, register: Register, dialect: Dialect) -> Iterator[tuple[Resource, Iterator[bytes]]]:
    if deck.papers:
        yield from _papers(deck, register, dialect)
        return
    for number, items in enumerate(_forms(deck.sections), 1):
        identifier = f"test-{deck.bank}-{number}"
        title = f"{deck.title} ({number})"
        resource = Resource(identifier=identifier, path=f"tests/{number}.xml", title=title, kind="assessment")
        group = Group(
            identifier=f"section-{deck.bank}-{number}",
            title=None,
            items=(one for item in _some(iter(items)) for one in _questions(register, item)),
            pick=None,
            shuffle=deck.shuffle,
            shuffle_items=False,
        )
        yield resource, assessment_pieces(Cover(identifier=identifier, title=title), (group,), dialect)


def _papers(deck: Deck, register: Register, dialect: Dialect) -> Iterator[tuple[Resource, Iterator[bytes]]]:
    """Declared tests: their forms, or as many forms as their pools give."""
    forms = (form for paper in deck.papers for form in ((paper,) if paper.form else parallel_forms(paper)))
    for paper in forms:
        path = f"tests/{paper.form.lower()}.xml"
        group = Group(
            identifier=f"section-{paper.identifier.removeprefix('test-')}",
            title=None,
            items=(
                one
                for section in paper.sections
                for item in section.items
                for one in _questions(register, item)
            ),
            pick=None,
            shuffle=deck.shuffle,
            shuffle_items=False,
        )
        resource = Resource(identifier=paper.identifier, path=path, title=paper.title, kind="assessment")
        yield resource, assessment_pieces(cover_of(paper), (group,), dialect)


def _questions(register: Register, item: Item) -> Iterator[Item]:
    """The questions that an item becomes, each registered: one, but one for each integral of a matching and each blank line."""
    match item.response:
        case Matching() as matching:
            questions = row_items(item, matching)
        case WorkingTask() as task:
            questions = question_items(item, task)
        case _:
            questions = (item,)
    for question in questions:
        register.add(question.identifier)
        yield question


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
