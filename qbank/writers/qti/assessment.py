"""The test that a whole deck makes up: a section for each template, from whose clones each student is dealt some."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from qbank.items.deck import Deck, Section
from qbank.messages import in_language
from qbank.writers import phrases
from qbank.writers.artifact import GENERATOR
from qbank.writers.formulas import AS_MATHML
from qbank.writers.piecewise import Piecewise
from qbank.writers.qti.elements import QtiElement, add, qti_root
from qbank.writers.qti.generation import Generation
from qbank.writers.qti.listing import Listed
from qbank.writers.qti.names import (
    SCORE,
    assessment_identifier,
    item_path,
    section_identifier,
)
from qbank.writers.refusal import too_few
from qbank.writers.tree import GAP, attribute, pattern

__all__ = ["TEST_PART", "add_control", "add_score", "add_total", "assessment_pieces"]

#: students go through the items in any order, each of which is marked when it is handed in
TEST_PART = {"identifier": "part-1", "navigation-mode": "nonlinear", "submission-mode": "individual"}


def assessment_pieces(deck: Deck, contents: list[list[Listed]], generation: Generation) -> Iterator[bytes]:
    """The test's file, in pieces.

    Args:
        deck: what is tested.
        contents: for each section of the deck, its items.
        generation: the generation of QTI.
    """
    top = qti_root(
        generation,
        "qti-assessment-test",
        {
            "identifier": assessment_identifier(deck),
            "title": deck.title,
            "tool-name": GENERATOR,
        },
    )
    total = add_score(top)
    part = add(top, "qti-test-part", TEST_PART)
    out = Piecewise()
    with out.inside(top):
        out.write(total, 1)
        out.line(1)
        with out.inside(part):
            out.write(add_control(part), 2)
            for number, (section, items) in enumerate(zip(deck.sections, contents, strict=True), 1):
                yield from _section(out, part, deck, section, items, number)
            out.line(1)
        out.write(add_total(top), 1)
        out.line(0)
    yield out.end()


def add_score(top: QtiElement) -> QtiElement:
    """Append the declaration of the total score, which begins at 0."""
    attributes = {"identifier": SCORE, "cardinality": "single", "base-type": "float"}
    total = add(top, "qti-outcome-declaration", attributes)
    add(add(total, "qti-default-value"), "qti-value", text="0")
    return total


def add_control(part: QtiElement) -> QtiElement:
    """Append how often an item may be answered, and what is shown of it afterwards."""
    return add(
        part,
        "qti-item-session-control",
        {"max-attempts": "1", "show-feedback": "true", "allow-review": "true"},
    )


def _section(
    out: Piecewise, part: QtiElement, deck: Deck, section: Section, items: list[Listed], number: int
) -> Iterator[bytes]:
    if section.pick is not None and section.pick > len(items):
        raise too_few(section.template, section.pick, len(items))
    # students see it, so it is not the title of the template, which may name the technique
    title = in_language(phrases.part(number), deck.language)
    attributes = {"identifier": section_identifier(section), "title": title, "visible": "true"}
    holder = add(part, "qti-assessment-section", attributes)
    out.line(2)
    with out.inside(holder):
        if section.pick is not None:
            out.write(add(holder, "qti-selection", {"select": str(section.pick)}), 3)
        out.write(add(holder, "qti-ordering", {"shuffle": "true" if deck.shuffle else "false"}), 3)
        reference = _reference(part.generation)
        for item in items:
            path = item_path(section, item.identifier)
            out.write_text(reference % (attribute(item.identifier).encode(), attribute(path).encode()), 3)
            if out.is_long:
                yield out.taken()
        out.line(2)


@cache
def _reference(generation: Generation) -> bytes:
    """The pattern of the line that names an item, for its identifier and its path."""
    top = QtiElement(b"", b"", generation, AS_MATHML)
    named = add(top, "qti-assessment-item-ref")
    named.attributes = b' identifier="%b" href="%b"' % (GAP, GAP)
    return pattern(named, 3)


def add_total(top: QtiElement) -> QtiElement:
    """Append the processing that makes the total the sum of the items' scores."""
    processing = add(top, "qti-outcome-processing")
    value = add(processing, "qti-set-outcome-value", {"identifier": SCORE})
    add(add(value, "qti-sum"), "qti-test-variables", {"variable-identifier": SCORE})
    return processing
