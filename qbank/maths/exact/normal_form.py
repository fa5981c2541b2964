"""Attempts at a proof: both sides of an identity in the exact system, again with finer units where needed.

A `Memory` keeps the system from one question to the next, so that what stands in several lines of a working is walked once.
Its questions are about one integrand, whose real domain counts: what that says about signs holds for all of them. What a
question states about signs beyond that holds for this question only, and the next one starts again from the integrand.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from qbank.maths.clock import PATIENT, Deadline
from qbank.maths.exact.field import Element, Field, OutOfGenerators
from qbank.maths.exact.signs import facts_known
from qbank.maths.exact.system import Exact
from qbank.maths.exact.units import Learnt, Refine
from qbank.maths.expression import Expression, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled

__all__ = ["Memory", "in_exact_system"]

SIZES = (8, 16, 32, 64)
MOST_ATTEMPTS = 16

R = TypeVar("R")


class _Remembering(Walk[Element]):
    """A walk that knows equal trees again, and their slopes too."""

    def __init__(self, system: Exact, variable: Symbol, bindings: Mapping[Symbol, Expression]) -> None:
        super().__init__(system, variable, bindings)
        self.system = system
        self.bindings = dict(bindings)
        self._known: dict[Expression, Element] = {}
        self._known_slopes: dict[Expression, Element | None] = {}

    def value(self, node: Expression) -> Element:
        """The value of a tree; see `Walk`."""
        found = self._known.get(node)
        if found is None:
            found = self._known[node] = self._VALUES[type(node)](self, node)
        return found

    def slope(self, node: Expression) -> Element | None:
        """The derivative of a tree; see `Walk`."""
        if node not in self._known_slopes:
            self._known_slopes[node] = self._SLOPES[type(node)](self, node)
        return self._known_slopes[node]

    def knows(self, bindings: Mapping[Symbol, Expression]) -> bool:
        """Whether letters mean here what they should; letters that were not met yet are given their meanings."""
        if any(bindings.get(letter) != tree for letter, tree in self.bindings.items()):
            return False
        new = {letter: tree for letter, tree in bindings.items() if letter not in self.bindings}
        if any(letter in self._known or letter in self._known_slopes for letter in new):
            return False
        self.bindings |= new
        self.bind(new)
        return True


class Memory:
    """What is remembered from question to question.

    Args:
        variable: the letter to differentiate by.
        integrand: what the questions are about, where there are to be several.
        positive: the names of letters that take positive values only.
    """

    def __init__(
        self,
        variable: Symbol,
        integrand: Expression | None = None,
        *,
        positive: frozenset[str] = frozenset(),
    ) -> None:
        self._variable, self._integrand, self._positive = variable, integrand, positive
        self._learnt: Learnt = {}
        self._size = 0
        self._walk: _Remembering | None = None

    def ask(
        self,
        question: Callable[[Walk[Element]], R],
        bindings: Mapping[Symbol, Expression],
        deadline: Deadline,
    ) -> R:
        """The answer to a question put to a walk in the exact system.

        Args:
            question: the question.
            bindings: letters that stand for expressions.
            deadline: when work stops.

        Raises:
            NotSettled: when the cost bounds are met or the system cannot express something.
            Undefined: when a side has no real value anywhere.
        """
        for _ in range(MOST_ATTEMPTS):
            walk, self._walk = self._walk, None
            try:
                if walk is None or not walk.knows(bindings):
                    walk = self._start(bindings, deadline)
                field = walk.system.field
                field.deadline, facts = deadline, facts_known(field)
                answer = question(walk)
            except Refine as finer:
                self._learnt[finer.key] = finer.unit
            except OutOfGenerators:
                if self._size == len(SIZES) - 1:
                    break
                self._size += 1
            except (OverflowError, MemoryError) as error:
                raise NotSettled("the expanded form grows too large") from error
            else:
                if facts_known(field) == facts:
                    self._walk = walk
                return answer
        raise NotSettled("too many independent functions for a normal form")

    def _start(self, bindings: Mapping[Symbol, Expression], deadline: Deadline) -> _Remembering:
        """A new walk, over the integrand first."""
        system = Exact(Field(SIZES[self._size], deadline), self._learnt, self._positive)
        walk = _Remembering(system, self._variable, bindings)
        if self._integrand is not None:
            walk.value(self._integrand)
            if facts_known(system.field):
                # its first parts were walked when they were not known yet
                walk = _Remembering(system, self._variable, bindings)
        return walk


def in_exact_system(
    ask: Callable[[Walk[Element]], R],
    variable: Symbol,
    bindings: Mapping[Symbol, Expression],
    *,
    seconds: float = PATIENT,
) -> R:
    """The answer to a single question put to a walk in the exact system; see `Memory`.

    Args:
        ask: the question.
        variable: the letter to differentiate by.
        bindings: letters that stand for expressions.
        seconds: how long it may take.
    """
    return Memory(variable).ask(ask, bindings, Deadline(seconds))
