"""One attempt at a proof: both sides of an identity in the exact system, again with finer units where needed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from qbank.maths.clock import PATIENT, Deadline
from qbank.maths.exact.field import Element, Field, OutOfGenerators
from qbank.maths.exact.system import Exact
from qbank.maths.exact.units import Learnt, Refine
from qbank.maths.expression import Expression, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled

__all__ = ["in_exact_system"]

SIZES = (8, 16, 32, 64)
MOST_ATTEMPTS = 16

R = TypeVar("R")


def in_exact_system(
    ask: Callable[[Walk[Element]], R],
    variable: Symbol,
    bindings: Mapping[Symbol, Expression],
    *,
    positive: frozenset[str] = frozenset(),
    seconds: float = PATIENT,
) -> R:
    """The answer to a question put to a walk in the exact system.

    Args:
        ask: the question.
        variable: the letter to differentiate by.
        bindings: letters that stand for expressions.
        positive: letters that take positive values only.
        seconds: how long it may take.

    Raises:
        NotSettled: when the cost bounds are met or the system cannot express something.
        Undefined: when a side has no real value anywhere.
    """
    deadline = Deadline(seconds)
    learnt: Learnt = {}
    size = 0
    for _ in range(MOST_ATTEMPTS):
        system = Exact(Field(SIZES[size], deadline), learnt, positive)
        try:
            return ask(Walk(system, variable, bindings))
        except Refine as finer:
            learnt[finer.key] = finer.unit
        except OutOfGenerators:
            size += 1
            if size == len(SIZES):
                break
        except (OverflowError, MemoryError) as error:
            raise NotSettled("the expanded form grows too large") from error
    raise NotSettled("too many independent functions for a normal form")
