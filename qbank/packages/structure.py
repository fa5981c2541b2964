"""Items and tests of QTI 2 and 3: identifiers that must differ, and names that must name something."""

from __future__ import annotations

import posixpath
from collections.abc import Iterable, Iterator, Mapping

from lxml import etree

from qbank.maths.notation.mathml import MATHML
from qbank.packages.manifest import target
from qbank.packages.parsing import Element, attribute, children, inside, kind, line_of, text_of
from qbank.packages.problem import Problem

__all__ = ["QTI", "assessment_problems", "item_problems", "unnamed_problems"]

#: the namespaces of items and tests, with the generation's name
QTI = {
    "http://www.imsglobal.org/xsd/imsqtiasi_v3p0": "QTI 3.0",
    "http://www.imsglobal.org/xsd/imsqti_v2p2": "QTI 2.2",
    "http://www.imsglobal.org/xsd/imsqti_v2p1": "QTI 2.1",
}

_FEEDBACK = ("feedbackblock", "feedbackinline", "modalfeedback")


def item_problems(member: str, item: Element) -> Iterator[Problem]:
    """What is wrong with the names in one item.

    Args:
        member: where it lies.
        item: the root of its document.
    """
    home = etree.QName(item).namespace
    strangers = {etree.QName(one).namespace for one in item.iter()} - {home, MATHML}
    for space in sorted(space or "" for space in strangers):
        yield Problem(member, f"elements of the namespace {space!r} do not belong in an item")
    responses = [*children(item, "responsedeclaration")]
    declared = [*responses, *children(item, "outcomedeclaration")]
    yield from _repeated(member, declared, "variable")
    variables = {attribute(one, "identifier") for one in declared}
    for element in item.iterdescendants():
        for name in ("responseidentifier", "outcomeidentifier"):
            variable = attribute(element, name)
            if variable is not None and variable not in variables:
                yield _problem(member, element, f"there is no variable {variable!r}")
    choices = [*inside(item, "simplechoice")]
    yield from _repeated(member, choices, "option")
    names = {attribute(choice, "identifier") for choice in choices}
    for response in responses:
        if attribute(response, "basetype") == "identifier":
            for value in inside(response, "value"):
                if text_of(value) not in names:
                    yield _problem(member, value, f"the key {text_of(value)!r} is none of the options")


def assessment_problems(
    member: str, test: Element, items: Mapping[str, str], found: dict[str, str]
) -> Iterator[Problem]:
    """What is wrong in a test.

    Args:
        member: where it lies.
        test: the root of its document.
        items: for each member that is an item, the item's identifier.
        found: for each item that a test was seen to name, the first such test; those of this test are added.
    """
    references = [*inside(test, "assessmentitemref")]
    sections = [*inside(test, "testpart", "assessmentsection")]
    yield from _repeated(member, [*references, *sections], "part")
    for reference in references:
        href = attribute(reference, "href") or ""
        name = target(href, posixpath.dirname(member))
        if name is None or name not in items:
            yield _problem(member, reference, f"{href!r} is no item of the package")
            continue
        if found.setdefault(name, member) != member:
            yield _problem(member, reference, f"{found[name]} names this item too")
        if attribute(reference, "identifier") != items[name]:
            yield _problem(member, reference, f"{href!r} has another identifier in its own file")
    for section in sections:
        yield from _selection(member, section)


def unnamed_problems(items: Iterable[str], found: Iterable[str]) -> Iterator[Problem]:
    """Items that no test names.

    Args:
        items: the members that are items.
        found: those that a test names.
    """
    for name in sorted(set(items) - set(found)):
        yield Problem(name, "no test names this item")


def _selection(member: str, section: Element) -> Iterator[Problem]:
    parts = sum(kind(child) in ("assessmentitemref", "assessmentsection") for child in section)
    for selection in children(section, "selection"):
        text = attribute(selection, "select") or ""
        wanted = int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0
        again = attribute(selection, "withreplacement") == "true"
        if wanted < 1 or (wanted > parts and not again):
            yield _problem(member, selection, f"{text!r} parts of {parts} cannot be dealt")


def _repeated(member: str, elements: Iterable[Element], what: str) -> Iterator[Problem]:
    seen: set[str] = set()
    for element in elements:
        name = attribute(element, "identifier")
        if name is None:
            yield _problem(member, element, f"a {what} without an identifier")
        elif name in seen:
            yield _problem(member, element, f"the {what} {name!r} occurs twice")
        else:
            seen.add(name)


def _problem(member: str, element: Element, message: str) -> Problem:
    return Problem(f"{member}:{line_of(element)}", message)
