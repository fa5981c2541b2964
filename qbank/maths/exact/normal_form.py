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
from qbank.maths.exact.shown import QuickMemory, is_shown_equal
from qbank.maths.exact.signs import facts_known
from qbank.maths.exact.system import Exact
from qbank.maths.exact.units import Learnt, Refine
from qbank.maths.exact.unreduced import QuickSide
from qbank.maths.expression import Expression, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled
from qbank.maths.remembering import Remembering

__all__ = ["Memory", "in_exact_system"]

SIZES = (8, 16, 32, 64)
MOST_ATTEMPTS = 16

R = TypeVar("R")


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
        self._kept: tuple[Remembering[Element], Field] | None = None
        self._quick = QuickMemory(variable) if integrand is not None else None

    def shows_equal(self, left: QuickSide, right: QuickSide, bindings: Mapping[Symbol, Expression]) -> bool:
        """Whether two sides are shown to be equal in the quick system; see `is_shown_equal`."""
        if self._quick is None:
            return is_shown_equal(left, right, self._variable, bindings)
        return self._quick.shows_equal(left, right, bindings)

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
            kept, self._kept = self._kept, None
            try:
                walk, field = kept if kept and kept[0].knows(bindings) else self._start(bindings, deadline)
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
                    self._kept = walk, field
                return answer
        raise NotSettled("too many independent functions for a normal form")

    def _start(
        self, bindings: Mapping[Symbol, Expression], deadline: Deadline
    ) -> tuple[Remembering[Element], Field]:
        """A new walk, over the integrand first."""
        field = Field(SIZES[self._size], deadline)
        system = Exact(field, self._learnt, self._positive)
        walk = Remembering(system, self._variable, bindings)
        if self._integrand is not None:
            walk.value(self._integrand)
            if facts_known(field):
                # its first parts were walked when they were not known yet
                walk = Remembering(system, self._variable, bindings)
        return walk, field


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
