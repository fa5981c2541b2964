"""A walk that is kept for many questions: it knows equal trees again, and their slopes too."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar

from qbank.maths.expression import Expression, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import Arithmetic, Numbers

__all__ = ["Remembering"]

T = TypeVar("T", bound=Arithmetic)

#: a slope may be None
_UNKNOWN: Any = object()


class Remembering(Walk[T]):
    """A walk that remembers.

    Args:
        numbers: the number system.
        variable: the letter with respect to which slopes are taken.
        bindings: letters that stand for expressions in the variable.
    """

    def __init__(self, numbers: Numbers[T], variable: Symbol, bindings: Mapping[Symbol, Expression]) -> None:
        super().__init__(numbers, variable, bindings)
        self._bindings = dict(bindings)
        self._known: dict[Expression, T] = {}
        self._known_slopes: dict[Expression, T | None] = {}

    def value(self, node: Expression) -> T:
        """The value of a tree; see `Walk`."""
        found = self._known.get(node)
        if found is None:
            found = self._known[node] = self._VALUES[type(node)](self, node)
        return found

    def slope(self, node: Expression) -> T | None:
        """The derivative of a tree; see `Walk`."""
        found = self._known_slopes.get(node, _UNKNOWN)
        if found is _UNKNOWN:
            found = self._known_slopes[node] = self._SLOPES[type(node)](self, node)
        return found

    def knows(self, bindings: Mapping[Symbol, Expression]) -> bool:
        """Whether letters mean here what they should; letters that were not met yet are given their meanings."""
        if bindings == self._bindings:
            return True
        if any(bindings.get(letter) != tree for letter, tree in self._bindings.items()):
            return False
        new = {letter: tree for letter, tree in bindings.items() if letter not in self._bindings}
        if any(letter in self._known or letter in self._known_slopes for letter in new):
            return False
        self._bindings |= new
        self._places |= {letter: (self, tree) for letter, tree in new.items()}
        return True
