"""The manifest of the package: what is in it, what it is called, whose it is."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from qbank.items.deck import Deck, Section
from qbank.items.source import Source
from qbank.writers.artifact import GENERATOR
from qbank.writers.authorship import card, licence_line
from qbank.writers.characters import one_line
from qbank.writers.origin import DRAW_PATH, bank_path
from qbank.writers.piecewise import Piecewise
from qbank.writers.qti.generation import LOM, Generation
from qbank.writers.qti.listing import Listed
from qbank.writers.qti.names import (
    TEST_PATH,
    assessment_identifier,
    item_path,
    manifest_identifier,
    source_identifier,
    test_path,
)
from qbank.writers.tree import GAP, XSI_LOCATION, Element, add, attribute, pattern, root

__all__ = ["INTERACTIONS", "manifest_pieces"]

_TYPED, _CHOSEN = "textEntryInteraction", "choiceInteraction"
#: what an item is answered by -> interactions and mode of scoring, in the words of the standard's metadata
INTERACTIONS = {
    "choice": (_CHOSEN, "responseprocessing"),
    "several-answers": (_CHOSEN, "responseprocessing"),
    "first-step": (_CHOSEN, "responseprocessing"),
    "find-fault": (_CHOSEN, "responseprocessing"),
    "complete-working": (_CHOSEN, "responseprocessing"),
    "number-gaps": (_TYPED, "responseprocessing"),
    "number-gaps-and-lines": (f"{_TYPED} {_CHOSEN}", "responseprocessing"),
    "expression-gaps": (_TYPED, "human"),
    "matching": ("matchInteraction", "responseprocessing"),
    "numeric": (_TYPED, "responseprocessing"),
    "evaluation": (_TYPED, "responseprocessing"),
    "coefficients": (_TYPED, "responseprocessing"),
    "free-expression": ("extendedTextInteraction", "human"),
    "show-that": ("extendedTextInteraction", "human"),
}


def manifest_pieces(deck: Deck, contents: list[list[Listed]], generation: Generation) -> Iterator[bytes]:
    """The manifest's file, in pieces.

    Args:
        deck: what the package holds.
        contents: for each section of the deck, its items.
        generation: the generation of QTI.
    """
    top = root(
        "manifest",
        {"": generation.package, "imsmd": LOM, "imsqti": generation.metadata},
        {XSI_LOCATION: generation.manifest_locations(), "identifier": manifest_identifier(deck)},
    )
    resources = add(top, "resources")
    out = Piecewise()
    with out.inside(top):
        out.write(_metadata(top, deck, generation), 1)
        out.write(add(top, "organizations"), 1)
        out.line(1)
        with out.inside(resources):
            for test in _tests(deck, contents):
                yield from _test(out, resources, deck, test, generation)
            for section, items in zip(deck.sections, contents, strict=True):
                for item in items:
                    out.write_text(_item(deck, section, item, generation), 2)
                    if out.is_long:
                        yield out.taken()
            if deck.source is not None:
                out.write(_source(resources, deck, deck.source), 2)
            out.line(1)
        out.line(0)
    yield out.end()


def _metadata(top: Element, deck: Deck, generation: Generation) -> Element:
    metadata = add(top, "metadata")
    add(metadata, "schema", text=generation.schema)
    add(metadata, "schemaversion", text=generation.schema_version)
    lom = _lom(metadata, deck.bank, deck.title, deck.language)
    cycle = _add_lom(lom, "lifeCycle")
    _string(_add_lom(cycle, "version"), deck.version, deck.language)
    for author in deck.authors:
        contribution = _add_lom(cycle, "contribute")
        role = _add_lom(contribution, "role")
        _add_lom(role, "source", "LOMv1.0")
        _add_lom(role, "value", "author")
        _add_lom(contribution, "entity", card(author))
    rights = _add_lom(lom, "rights")
    restricted = _add_lom(rights, "copyrightAndOtherRestrictions")
    _add_lom(restricted, "source", "LOMv1.0")
    _add_lom(restricted, "value", "yes")
    _string(_add_lom(rights, "description"), licence_line(deck.licence), "en")
    return metadata


class _Listing(NamedTuple):
    """A test as the manifest tells of it: its identifier, path and title, and its items, section by section."""

    identifier: str
    path: str
    title: str
    contents: list[list[Listed]]


def _tests(deck: Deck, contents: list[list[Listed]]) -> Iterator[_Listing]:
    if not deck.papers:
        yield _Listing(assessment_identifier(deck), TEST_PATH, deck.title, contents)
    start = 0
    for paper in deck.papers:
        end = start + len(paper.sections)
        yield _Listing(paper.identifier, test_path(paper), paper.title, contents[start:end])
        start = end


def _test(
    out: Piecewise, resources: Element, deck: Deck, test: _Listing, generation: Generation
) -> Iterator[bytes]:
    """The resource of a test, which names every item that it depends on."""
    kind = f"imsqti_test_{generation.resource}"
    attributes = {"identifier": test.identifier, "type": kind, "href": test.path}
    resource = add(resources, "resource", attributes)
    metadata = add(resource, "metadata")
    _lom(metadata, test.identifier, test.title, deck.language)
    out.line(2)
    with out.inside(resource):
        out.write(metadata, 3)
        out.write(add(resource, "file", {"href": test.path}), 3)
        for items in test.contents:
            for item in items:
                out.write_text(_DEPENDENCY % attribute(item.identifier).encode(), 3)
                if out.is_long:
                    yield out.taken()
        out.line(2)


#: the pattern of a line that names an item, for its identifier
_DEPENDENCY = pattern(Element(b"dependency", b' identifierref="%b"' % GAP), 3)


def _item(deck: Deck, section: Section, item: Listed, generation: Generation) -> bytes:
    """The resource of an item."""
    identifier = attribute(item.identifier).encode()
    path = attribute(item_path(section, item.identifier)).encode()
    shown = [attribute(file).encode() for file in item.files]
    resource = _resource(item.form, section.title, item.tags, deck.language, generation, len(shown))
    return resource % (identifier, path, identifier, path, *shown)


@lru_cache(maxsize=64)
def _resource(
    form: str, title: str, tags: tuple[str, ...], language: str, generation: Generation, shown: int
) -> bytes:
    """The pattern of the resource of an item, for its identifier, its path, both again, and the paths of what it shows."""
    kind = f"imsqti_item_{generation.resource}".encode()
    resource = Element(b"resource", b' identifier="%b" type="%b" href="%b"' % (GAP, kind, GAP))
    metadata = add(resource, "metadata")
    interactions, scoring = INTERACTIONS[form]
    facts = add(metadata, "imsqti:qtiMetadata")
    for name, value in (
        ("itemTemplate", "false"),
        ("timeDependent", "false"),
        ("composite", "false"),
        *(("interactionType", one) for one in interactions.split()),
        ("feedbackType", "nonadaptive"),
        ("solutionAvailable", "true"),
        ("scoringMode", scoring),
        ("toolName", GENERATOR),
    ):
        if name != "scoringMode" or generation.scoring_mode:
            add(facts, f"imsqti:{name}", text=value)
    _lom(metadata, None, title, language, tags)
    resource.parts += [Element(b"file", b' href="%b"' % GAP) for _ in range(1 + shown)]
    return pattern(resource, 2)


def _source(resources: Element, deck: Deck, source: Source) -> Element:
    """The bank that the items come from: files that nothing refers to, and without an href to be opened at."""
    attributes = {"identifier": source_identifier(deck), "type": "webcontent"}
    resource = add(resources, "resource", attributes)
    for path in (bank_path(source), DRAW_PATH):
        add(resource, "file", {"href": path})
    return resource


def _lom(
    parent: Element, identifier: str | None, title: str, language: str, keywords: tuple[str, ...] = ()
) -> Element:
    """The metadata of a resource; without an identifier, there is a gap in its place."""
    lom = _add_lom(parent, "lom")
    general = _add_lom(lom, "general")
    entry = _add_lom(_add_lom(general, "identifier"), "entry", identifier)
    if identifier is None:
        entry.parts.append(GAP)
    _string(_add_lom(general, "title"), title, language)
    _add_lom(general, "language", language)
    for keyword in keywords:
        _string(_add_lom(general, "keyword"), keyword, language)
    return lom


def _add_lom(parent: Element, tag: str, text: str | None = None) -> Element:
    return add(parent, f"imsmd:{tag}", text=text)


def _string(parent: Element, text: str, language: str) -> None:
    add(parent, "imsmd:string", {"language": language}, one_line(text))
