"""QTI 1.2: one document for all items, plain or in a Common Cartridge.

`package`, here, writes a plain package: one test with a section for each template, which deals, or a declared test with
its sections, or each of its forms. `cartridge.package` writes the same items into tests without a choice, or into a
bank. Documents are written piece by piece.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from qbank.items.deck import Deck, Paper, Part, Section
from qbank.items.item import Item
from qbank.messages import in_language
from qbank.writers import phrases
from qbank.writers.artifact import Artifact
from qbank.writers.figures import Figures
from qbank.writers.formulas import Formulas
from qbank.writers.options import USUAL_OPTIONS, Options
from qbank.writers.origin import source_files
from qbank.writers.pictures import Album
from qbank.writers.qti.names import Register, part_identifier, section_identifier
from qbank.writers.qti12.document import Cover, Group, assessment_pieces, cover_of
from qbank.writers.qti12.manifest import CONTENT, MANIFEST_PATH, Resource, manifest, pictures_identifier
from qbank.writers.qti12.names import PLAIN
from qbank.writers.refusal import too_few

__all__ = ["package"]

_PATH = "questions.xml"


def package(deck: Deck, options: Options = USUAL_OPTIONS) -> Iterator[Artifact]:
    """The files of a plain package: the documents and the manifest.

    Args:
        deck: what to write.
        options: how formulas are shown.

    Yields:
        The documents in pieces, each followed by figures and pictures that are new, then the deck's source, then the manifest.

    Raises:
        MissingRendererError: pictures are wanted, and nothing is there to draw them.
        RefusalError: identifiers are no names or not all different, or a section deals more items than it has.
    """
    album = Album(options.picture, "styles") if options.math == "pictures" else None
    figures = Figures()
    dialect = replace(PLAIN, formulas=Formulas(mode=options.math, album=album), figures=figures)
    register = Register()
    register.add(pictures_identifier(deck))
    resources: list[Resource] = []
    for path, cover, groups in _tests(deck, register):
        for piece in assessment_pieces(cover, groups, dialect):
            yield Artifact(path, piece)
        yield from figures.files()
        if album is not None:
            yield from album.files()
        name = cover.identifier.removeprefix("test-")
        resources.append(Resource(identifier=f"resource-{name}", path=path, title=cover.title))
    # not in the manifest: what is named there may become a file that students can open
    yield from source_files(deck)
    paths = (*figures.every_path, *(() if album is None else album.every_path))
    yield Artifact(MANIFEST_PATH, manifest(deck, resources, CONTENT, paths))


def _tests(deck: Deck, register: Register) -> Iterator[tuple[str, Cover, tuple[Group, ...]]]:
    """Each test: its file, what it says of itself, and its sections."""
    if not deck.papers:
        identifier = register.add(f"test-{deck.bank}")
        numbered = enumerate(deck.sections, 1)
        groups = (
            _group(one, in_language(phrases.part(number), deck.language), deck, register)
            for number, one in numbered
        )
        yield _PATH, Cover(identifier=identifier, title=deck.title), tuple(groups)
    for paper in deck.papers:
        register.add(paper.identifier)
        parts = tuple(_part(part, deck, register) for part in paper.parts)
        yield _form_path(paper), cover_of(paper), parts


def _form_path(paper: Paper) -> str:
    return f"form-{paper.form.lower()}.xml" if paper.form else _PATH


def _part(part: Part, deck: Deck, register: Register) -> Group:
    """A section of a declared test: with a section inside for each of its pools, if it deals."""
    pools = () if not part.deals else part.sections
    return Group(
        identifier=register.add(part_identifier(part)),
        title=part.title,
        items=() if pools else (_registered(item, register) for one in part.sections for item in one.items),
        pick=None,
        shuffle=deck.shuffle,
        shuffle_items=part.shuffle,
        groups=tuple(_group(pool, part.title, deck, register, shuffle=part.shuffle) for pool in pools),
    )


def _registered(item: Item, register: Register) -> Item:
    register.add(item.identifier)
    return item


def _group(
    section: Section, title: str, deck: Deck, register: Register, *, shuffle: bool | None = None
) -> Group:
    return Group(
        identifier=register.add(section_identifier(section)),
        title=title,
        items=_checked(section.items, section.pick, section.template, register),
        pick=section.pick,
        shuffle=deck.shuffle,
        shuffle_items=deck.shuffle if shuffle is None else shuffle,
    )


def _checked(items: Iterable[Item], pick: int | None, template: str, register: Register) -> Iterator[Item]:
    """The items, each registered; complains at their end if they are too few."""
    count = 0
    for item in items:
        register.add(item.identifier)
        yield item
        count += 1
    if pick is not None and pick > count:
        raise too_few(template, pick, count)
