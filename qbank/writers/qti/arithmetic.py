"""Arithmetic and comparisons of response processing as text: an item with coefficients has a thousand such elements."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from lxml import etree

from qbank.maths.notation.mathml import quoted
from qbank.writers.characters import one_line
from qbank.writers.marks import mark
from qbank.writers.qti.elements import add
from qbank.writers.qti.generation import generation_of

__all__ = ["Words", "add_all", "words_of"]

_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it


class Words:
    """Expressions in the words of one generation of QTI.

    Args:
        tag: of any element of an item.
    """

    def __init__(self, tag: str) -> None:
        self._name = cache(generation_of(tag).name)
        self._base_type = self._name("base-type")

    def apply(self, operator: str, *operands: str) -> str:
        """An operator with its operands.

        Args:
            operator: its name in QTI 3.0.
            operands: expressions.

        >>> Words("{http://www.imsglobal.org/xsd/imsqti_v2p1}and").apply("qti-is-null", "<a/>")
        '<isNull><a/></isNull>'
        """
        name = self._name(operator)
        return f"<{name}>{''.join(operands)}</{name}>"

    def variables(self, identifiers: Iterable[str]) -> str:
        """The values of variables, one after the other."""
        name = self._name("qti-variable")
        return "".join(f'<{name} identifier="{quoted(one_line(one))}"/>' for one in identifiers)

    def literal(self, number: str) -> str:
        """A number."""
        name = self._name("qti-base-value")
        return f'<{name} {self._base_type}="float">{quoted(number)}</{name}>'


@cache
def _words(tag: str) -> Words:
    return Words(tag)


def words_of(parent: _Element) -> Words:
    """The words of the generation of an element."""
    return _words(str(parent.tag))


def add_all(branch: _Element, tests: Iterable[str]) -> None:
    """Append the condition that every test passes; each test is on a line of its own."""
    every = add(branch, "qti-and")
    for test in tests:
        every.append(mark(test))
