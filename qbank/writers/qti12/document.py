"""A `questestinterop` document, item by item: an assessment of sections, or an object bank."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from lxml import etree

from qbank.items.item import Item
from qbank.writers.qti.elements import Piecewise
from qbank.writers.qti12.elements import XSI_LOCATION, add, root
from qbank.writers.qti12.item import add_item
from qbank.writers.qti12.metadata import add_fields
from qbank.writers.qti12.names import Dialect

__all__ = ["Group", "assessment_pieces", "bank_pieces"]

_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it

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
        items: its items, taken one after the other.
        pick: how many of them each student is dealt; None for all.
        shuffle: whether their order, and that of options, is left to the reader.
    """

    identifier: str
    title: str | None
    items: Iterable[Item]
    pick: int | None
    shuffle: bool


def assessment_pieces(
    identifier: str, title: str, groups: Iterable[Group], dialect: Dialect
) -> Iterator[bytes]:
    """The document of an assessment, in pieces.

    Args:
        identifier: of the assessment.
        title: shown to people.
        groups: its sections; the profile of Common Cartridge knows exactly one, which deals all it has.
        dialect: how it is written.
    """
    top = _top(dialect)
    test = add(top, "assessment", {"ident": identifier, "title": title})
    with Piecewise() as out, out.inside(top):
        out.line(1)
        with out.inside(test):
            if dialect.percent:
                out.write(add_fields(test, _EXAMINATION), 2)
            for group in groups:
                yield from _section(out, test, group, dialect)
            out.line(1)
        out.line(0)
    yield out.taken()


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
    with Piecewise() as out, out.inside(top):
        out.line(1)
        with out.inside(bank):
            for category, item in questions:
                out.write(add_item(bank, item, dialect, shuffle=shuffle, category=category), 2)
                bank.remove(bank[-1])
                yield out.taken()
            out.line(1)
        out.line(0)
    yield out.taken()


def _top(dialect: Dialect) -> _Element:
    located = f"{dialect.namespace} {dialect.location}"
    return root("questestinterop", dialect.namespace, {XSI_LOCATION: located} if dialect.namespace else {})


def _section(out: Piecewise, test: _Element, group: Group, dialect: Dialect) -> Iterator[bytes]:
    attributes = {"ident": group.identifier}
    if group.title is not None:
        attributes["title"] = group.title
    section = add(test, "section", attributes)
    out.line(2)
    with out.inside(section):
        if group.pick is not None:
            out.write(_selection(section, group.pick, shuffle=group.shuffle), 3)
        for item in group.items:
            out.write(add_item(section, item, dialect, shuffle=group.shuffle), 3)
            section.remove(section[-1])
            yield out.taken()
        out.line(2)
    test.remove(section)


def _selection(section: _Element, pick: int, *, shuffle: bool) -> _Element:
    """How many are dealt, as QTI 1.2 ASI Selection and Ordering (2002) has it (names from memory)."""
    dealt = add(section, "selection_ordering")
    add(add(dealt, "selection"), "selection_number", text=str(pick))
    add(dealt, "order", {"order_type": "Random" if shuffle else "Fixed"})
    return dealt
