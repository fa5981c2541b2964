"""A test as a bank declares it, or one form of it: its sections, time limit, instructions and total.

A section that deals holds a section for each of its pools. Students do not see these: they are invisible, and their
items mix with each other where the order is left to the reader.
"""

from __future__ import annotations

from qbank.items.deck import Paper, Part, Section
from qbank.writers.artifact import GENERATOR
from qbank.writers.qti.assessment import TEST_PART, add_control, add_score, add_total
from qbank.writers.qti.elements import QtiElement, add, add_content_body, qti_root
from qbank.writers.qti.generation import Generation
from qbank.writers.qti.names import MAXSCORE, item_path, part_identifier, section_identifier
from qbank.writers.tree import document, indented

__all__ = ["paper_document"]


def paper_document(paper: Paper, generation: Generation) -> bytes:
    """The bytes of a test's file.

    Args:
        paper: the test.
        generation: the generation of QTI.
    """
    attributes = {"identifier": paper.identifier, "title": paper.title, "tool-name": GENERATOR}
    top = qti_root(generation, "qti-assessment-test", attributes)
    score = add_score(top)
    score.set(generation.name("normal-maximum"), str(paper.marks))
    most = {"identifier": MAXSCORE, "cardinality": "single", "base-type": "float"}
    add(
        add(add(top, "qti-outcome-declaration", most), "qti-default-value"),
        "qti-value",
        text=str(paper.marks),
    )
    if paper.minutes is not None:
        add(top, "qti-time-limits", {"max-time": str(60 * paper.minutes), "allow-late-submission": "false"})
    test_part = add(top, "qti-test-part", TEST_PART)
    add_control(test_part)
    for number, part in enumerate(paper.parts):
        _add_part(test_part, part, "" if number else paper.instructions)
    add_total(top)
    return document(indented(top, 0))


def _add_part(test_part: QtiElement, part: Part, instructions: str) -> None:
    attributes = {"identifier": part_identifier(part), "title": part.title, "visible": "true"}
    holder = add(test_part, "qti-assessment-section", attributes)
    alone = part.sections[0] if len(part.sections) == 1 else None
    if alone is not None:
        _add_selection(holder, alone)
    _add_ordering(holder, part)
    if instructions:
        # 2.1 and 2.2 have no place for it above the sections
        rubric = add(holder, "qti-rubric-block", {"view": "candidate", "use": "instructions"})
        add(add_content_body(rubric), "p", text=instructions)
    for section in part.sections:
        inside = holder if alone is not None or not part.deals else _add_pool(holder, part, section)
        for item in section.items:
            path = item_path(section, item.identifier)
            add(inside, "qti-assessment-item-ref", {"identifier": item.identifier, "href": path})


def _add_pool(holder: QtiElement, part: Part, section: Section) -> QtiElement:
    attributes = {
        "identifier": section_identifier(section),
        "title": part.title,
        "visible": "false",
        "keep-together": "false",
    }
    pool = add(holder, "qti-assessment-section", attributes)
    _add_selection(pool, section)
    _add_ordering(pool, part)
    return pool


def _add_selection(holder: QtiElement, section: Section) -> None:
    if section.pick is not None:
        add(holder, "qti-selection", {"select": str(section.pick)})


def _add_ordering(holder: QtiElement, part: Part) -> None:
    add(holder, "qti-ordering", {"shuffle": "true" if part.shuffle else "false"})
