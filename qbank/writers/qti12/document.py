"""A `questestinterop` document, item by item: an assessment of sections, or an object bank.

What QTI 1.2 says outside the profile of Common Cartridge (`selection_ordering`, `duration`, `outcomes_processing` of an
assessment) follows its Assessment, Section and Item document of 2002; names and their order are from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from qbank.items.deck import Paper
from qbank.items.item import Item
from qbank.writers.characters import shown
from qbank.writers.piecewise import Piecewise
from qbank.writers.qti12.item import add_item
from qbank.writers.qti12.metadata import add_fields
from qbank.writers.qti12.names import SCORE, Dialect
from qbank.writers.tree import XSI_LOCATION, Element, add, root

__all__ = ["Cover", "Group", "assessment_pieces", "bank_pieces", "cover_of"]

#: of an assessment of a cartridge, in the words of its profile
_EXAMINATION = {
    "cc_profile": "cc.exam.v0p1",
    "qmd_assessmenttype": "Examination",
    "qmd_scoretype": "Percentage",
    "qmd_feedbackpermitted": "Yes",
    "qmd_hintspermitted": "No",
    "qmd_solutionspermitted": "Yes",
    "cc_maxattempts": "1",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A section of an assessment.

    Attributes:
        identifier: of the section.
        title: shown to people; None where it would give a hint.
        items: its items, taken one after the other; none where it has groups.
        pick: how many of them each student is dealt; None for all.
        shuffle: whether the order of options is left to the reader.
        shuffle_items: the same of the items, or of the groups.
        groups: sections inside it.
    """

    identifier: str
    title: str | None
    items: Iterable[Item]
    pick: int | None
    shuffle: bool
    shuffle_items: bool
    groups: tuple[Group, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """What an assessment says of itself before its first section.

    Attributes:
        identifier: of the assessment.
        title: shown to people.
        instructions: what students read before they begin; may be empty.
        minutes: time limit, None for none.
        marks: the most that a student can get; None where it is not said.
    """

    identifier: str
    title: str
    instructions: str = ""
    minutes: int | None = None
    marks: int | None = None


def cover_of(paper: Paper) -> Cover:
    """The cover of a declared test."""
    return Cover(
        identifier=paper.identifier,
        title=paper.title,
        instructions=paper.instructions,
        minutes=paper.minutes,
        marks=paper.marks,
    )


def assessment_pieces(cover: Cover, groups: Iterable[Group], dialect: Dialect) -> Iterator[bytes]:
    """The document of an assessment, in pieces.

    Args:
        cover: what it says of itself.
        groups: its sections; the profile of Common Cartridge knows exactly one, which deals all it has.
        dialect: how it is written.
    """
    top = _top(dialect)
    test = add(top, "assessment", {"ident": cover.identifier, "title": cover.title})
    _cover(test, cover, dialect)
    head = test.children
    out = Piecewise()
    with out.inside(top):
        out.line(1)
        with out.inside(test):
            for element in head:
                out.write(element, 2)
            for group in groups:
                yield from _section(out, test, group, dialect, 2)
            out.line(1)
        out.line(0)
    yield out.end()


def bank_pieces(
    identifier: str, questions: Iterable[tuple[str, Item]], dialect: Dialect, *, shuffle: bool
) -> Iterator[bytes]:
    """The document of an object bank, in pieces.

    Args:
        identifier: of the bank.
        questions: the items, each with the category it is filed under.
        dialect: how it is written.
        shuffle: whether the order of options is left to the reader.
    """
    top = _top(dialect)
    bank = add(top, "objectbank", {"ident": identifier})
    out = Piecewise()
    with out.inside(top):
        out.line(1)
        with out.inside(bank):
            for category, item in questions:
                out.write(add_item(bank, item, dialect, shuffle=shuffle, category=category), 2)
                bank.parts.clear()
                yield out.taken()
            out.line(1)
        out.line(0)
    yield out.end()


def _top(dialect: Dialect) -> Element:
    if dialect.namespace is None:
        return Element(b"questestinterop")
    located = {XSI_LOCATION: f"{dialect.namespace} {dialect.location}"}
    return root("questestinterop", {"": dialect.namespace}, located)


def _cover(test: Element, cover: Cover, dialect: Dialect) -> None:
    if dialect.percent:
        limit = {"qmd_timelimit": str(cover.minutes), "cc_allow_late_submission": "No"}
        add_fields(test, _EXAMINATION if cover.minutes is None else _EXAMINATION | limit)
    elif cover.minutes is not None:
        add(test, "duration", text=f"PT{cover.minutes}M")
    if cover.instructions:
        rubric = add(test, "rubric", {} if dialect.percent else {"view": "Candidate"})
        add(
            add(rubric, "material"),
            "mattext",
            {"texttype": "text/plain", "charset": "utf-8"},
            shown(cover.instructions),
        )
    if cover.marks is not None and not dialect.percent:
        outcomes = add(add(test, "outcomes_processing", {"scoremodel": "SumOfScores"}), "outcomes")
        limits = {"varname": SCORE, "vartype": "Decimal", "minvalue": "0", "maxvalue": str(cover.marks)}
        add(outcomes, "decvar", limits)


def _section(out: Piecewise, parent: Element, group: Group, dialect: Dialect, depth: int) -> Iterator[bytes]:
    attributes = {"ident": group.identifier}
    if group.title is not None:
        attributes["title"] = group.title
    section = add(parent, "section", attributes)
    out.line(depth)
    with out.inside(section):
        if not dialect.percent:
            out.write(_dealing(section, group), depth + 1)
        for inner in group.groups:
            yield from _section(out, section, inner, dialect, depth + 1)
        for item in group.items:
            out.write(add_item(section, item, dialect, shuffle=group.shuffle), depth + 1)
            section.parts.clear()
            yield out.taken()
        out.line(depth)


def _dealing(section: Element, group: Group) -> Element:
    """How many are dealt, and in which order; the profile has neither."""
    dealt = add(section, "selection_ordering")
    if group.pick is not None:
        add(add(dealt, "selection"), "selection_number", text=str(group.pick))
    add(dealt, "order", {"order_type": "Random" if group.shuffle_items else "Fixed"})
    return dealt
