"""Arithmetic and comparisons of response processing as text: an item with coefficients has a thousand such elements."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache, lru_cache

from qbank.writers.qti.elements import QtiElement, add
from qbank.writers.qti.generation import Generation
from qbank.writers.tree import Markup, attribute

__all__ = ["Words", "add_all", "words_of"]


class Words:
    """Expressions in the words of one generation of QTI.

    Args:
        generation: which.
    """

    def __init__(self, generation: Generation) -> None:
        self._name = cache(generation.name)
        self._base_type = self._name("base-type")
        variable = self._name("qti-variable")
        self._variable = lru_cache(1024)(lambda one: f'<{variable} identifier="{attribute(one)}"/>')

    def apply(self, operator: str, *operands: str) -> str:
        """An operator with its operands.

        Args:
            operator: its name in QTI 3.0.
            operands: expressions.

        >>> from qbank.writers.qti.generation import QTI21
        >>> Words(QTI21).apply("qti-is-null", "<a/>")
        '<isNull><a/></isNull>'
        """
        name = self._name(operator)
        return f"<{name}>{''.join(operands)}</{name}>"

    def variables(self, identifiers: Iterable[str]) -> str:
        """The values of variables, one after the other."""
        return "".join(map(self._variable, identifiers))

    def literal(self, number: str) -> str:
        """A number."""
        name = self._name("qti-base-value")
        return f'<{name} {self._base_type}="float">{attribute(number)}</{name}>'


_words = cache(Words)


def words_of(parent: QtiElement) -> Words:
    """The words of the generation of an element."""
    return _words(parent.generation)


def add_all(branch: QtiElement, tests: Iterable[str]) -> None:
    """Append the condition that every test passes; each test is on a line of its own."""
    every = add(branch, "qti-and")
    every.parts += [Markup(test.encode()) for test in tests]
