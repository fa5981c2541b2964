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
        self._name = cache(lambda word: generation.name(word).encode())
        variable, value = (generation.name(word) for word in ("qti-variable", "qti-base-value"))
        base_type = generation.name("base-type")
        self._variable = lru_cache(256)(lambda one: f'<{variable} identifier="{attribute(one)}"/>'.encode())
        #: a number
        self.literal = lru_cache(256)(
            lambda number: f'<{value} {base_type}="float">{attribute(number)}</{value}>'.encode()
        )

    def apply(self, operator: str, *operands: bytes) -> bytes:
        """An operator with its operands.

        Args:
            operator: its name in QTI 3.0.
            operands: expressions.

        >>> from qbank.writers.qti.generation import QTI21
        >>> Words(QTI21).apply("qti-is-null", b"<a/>")
        b'<isNull><a/></isNull>'
        """
        name = self._name(operator)
        return b"<%b>%b</%b>" % (name, b"".join(operands), name)

    def variables(self, identifiers: Iterable[str]) -> bytes:
        """The values of variables, one after the other."""
        return b"".join(map(self._variable, identifiers))


_words = cache(Words)


def words_of(parent: QtiElement) -> Words:
    """The words of the generation of an element."""
    return _words(parent.generation)


def add_all(branch: QtiElement, tests: Iterable[bytes]) -> None:
    """Append the condition that every test passes; each test is on a line of its own."""
    every = add(branch, "qti-and")
    every.parts += map(Markup, tests)
