"""A QTI package of any generation: a file for each item, one test or one for each of its forms, and the manifest.

    items --item_document--> items/TEMPLATE/ITEM.xml ...   test.xml   imsmanifest.xml

The items go first, one at a time; of each only its line for the table of contents is kept.
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.items.deck import Deck
from qbank.writers.artifact import Artifact
from qbank.writers.figures import Figures
from qbank.writers.formulas import Formulas, MathMode
from qbank.writers.origin import source_files
from qbank.writers.pictures import STYLES_PATH, Album, PictureFormat
from qbank.writers.qti.assessment import assessment_pieces
from qbank.writers.qti.generation import QTI3, QTI21, QTI22, Generation
from qbank.writers.qti.item import item_document
from qbank.writers.qti.listing import Listed, listed
from qbank.writers.qti.manifest import manifest_pieces
from qbank.writers.qti.names import (
    ITEM_TO_TOP,
    MANIFEST_PATH,
    TEST_PATH,
    Register,
    assessment_identifier,
    item_path,
    manifest_identifier,
    part_identifier,
    section_identifier,
    source_identifier,
    test_path,
)
from qbank.writers.qti.paper import paper_document

__all__ = ["QTI3", "QTI21", "QTI22", "Generation", "package"]


def package(
    deck: Deck, generation: Generation, *, math: MathMode = "mathml", picture: PictureFormat = "svg"
) -> Iterator[Artifact]:
    """The files of a package.

    Args:
        deck: what to write.
        generation: the generation of QTI.
        math: how formulas are shown.
        picture: the format of pictures, where formulas are shown as such.

    Yields:
        The items in the order of the deck, each followed by its figure and by pictures that are new, then its source, the test, and the
        manifest.

    Raises:
        MissingRendererError: pictures are wanted, and nothing is there to draw them.
        RefusalError: identifiers are no names or not all different, or a section deals more items than it has.
    """
    album = Album(picture, "classes") if math == "pictures" else None
    formulas = Formulas(mode=math, album=album, folder=ITEM_TO_TOP)
    figures = Figures()
    register = Register()
    register.add(manifest_identifier(deck))
    for identifier in _names_of_tests(deck):
        register.add(identifier)
    contents: list[list[Listed]] = []
    for section in deck.sections:
        register.add(section_identifier(section))
        lines: list[Listed] = []
        for item in section.items:
            register.add(item.identifier)
            data = item_document(item, generation, shuffle=deck.shuffle, formulas=formulas, figures=figures)
            yield Artifact(item_path(section, item.identifier), data)
            shown = () if item.figure is None else (figures.path(item.figure),)
            yield from figures.files()
            if album is None:
                lines.append(listed(item, shown))
            else:
                yield from album.files()
                lines.append(listed(item, (STYLES_PATH, *album.paths(), *shown)))
        contents.append(lines)
    if album is not None:
        yield album.styles()
    if deck.source is not None:
        register.add(source_identifier(deck))
        yield from source_files(deck)
    if not deck.papers:
        for piece in assessment_pieces(deck, contents, generation):
            yield Artifact(TEST_PATH, piece)
    for paper in deck.papers:
        yield Artifact(test_path(paper), paper_document(paper, generation))
    for piece in manifest_pieces(deck, contents, generation):
        yield Artifact(MANIFEST_PATH, piece)


def _names_of_tests(deck: Deck) -> Iterator[str]:
    if not deck.papers:
        yield assessment_identifier(deck)
    for paper in deck.papers:
        yield paper.identifier
        for part in paper.parts:
            yield part_identifier(part)
