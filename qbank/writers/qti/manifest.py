"""The manifest of the package: what is in it, what it is called, whose it is."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from qbank.items.deck import Deck, Section
from qbank.items.source import Source
from qbank.maths.notation.mathml import escaped
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
from qbank.writers.tree import XSI_LOCATION, Element, Markup, add, indented, root

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


#: stands for the identifier of an item, before every text from outside
_GAP = "{identifier}"


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
                    out.write(_item(resources, deck, section, item, generation), 2)
                    resources.parts.clear()
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
                out.write(add(resource, "dependency", {"identifierref": item.identifier}, unique=True), 3)
                resource.parts.clear()
                yield out.taken()
        out.line(2)


def _item(resources: Element, deck: Deck, section: Section, item: Listed, generation: Generation) -> Element:
    path = item_path(section, item.identifier)
    attributes = {"identifier": item.identifier, "type": f"imsqti_item_{generation.resource}", "href": path}
    resource = add(resources, "resource", attributes, unique=True)
    before, after = _about(item.form, section.title, item.tags, deck.language, generation)
    resource.parts.append(Markup(b"%b%b%b" % (before, escaped(item.identifier).encode(), after)))
    for file in (path, *item.files):
        add(resource, "file", {"href": file}, unique=True)
    return resource


@lru_cache(maxsize=64)
def _about(
    form: str, title: str, tags: tuple[str, ...], language: str, generation: Generation
) -> tuple[bytes, bytes]:
    """What the manifest says of an item, as it is written before its identifier and after it."""
    metadata = Element(b"metadata")
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
    _lom(metadata, _GAP, title, language, tags)
    before, _, after = indented(metadata, 3).partition(_GAP.encode())
    return before, after


def _source(resources: Element, deck: Deck, source: Source) -> Element:
    """The bank that the items come from: files that nothing refers to, and without an href to be opened at."""
    attributes = {"identifier": source_identifier(deck), "type": "webcontent"}
    resource = add(resources, "resource", attributes)
    for path in (bank_path(source), DRAW_PATH):
        add(resource, "file", {"href": path})
    return resource


def _lom(
    parent: Element, identifier: str, title: str, language: str, keywords: tuple[str, ...] = ()
) -> Element:
    lom = _add_lom(parent, "lom")
    general = _add_lom(lom, "general")
    _add_lom(_add_lom(general, "identifier"), "entry", identifier)
    _string(_add_lom(general, "title"), title, language)
    _add_lom(general, "language", language)
    for keyword in keywords:
        _string(_add_lom(general, "keyword"), keyword, language)
    return lom


def _add_lom(parent: Element, tag: str, text: str | None = None) -> Element:
    return add(parent, f"imsmd:{tag}", text=text)


def _string(parent: Element, text: str, language: str) -> None:
    add(parent, "imsmd:string", {"language": language}, one_line(text))
