"""Rows worked by each of two programs, and how long each row took: our techniques, and SymPy's step-by-step integrator.

A row counts for us when every line is proved, for SymPy when nothing is left to be integrated and its answer is not refuted;
its parameters are positive. A row is stopped after so many seconds of the processor, for both, so that a busy machine stops
no row sooner; times are by the clock. Each keeps what it remembers from row to row.

Nothing here imports SymPy until SymPy is asked: a process that works rows by our techniques is to be without it.
"""

from __future__ import annotations

import signal
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from types import FrameType
from typing import Any, TypeVar

from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Expression, Symbol
from qbank.maths.verdict import Refuted
from qbank.techniques import solve
from tests.reference.stepwise_rows import Row

__all__ = ["Effort", "by_sympy", "by_us"]

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Effort:
    """How one program fared with one row.

    Attributes:
        worked: whether it has an answer that counts.
        seconds: by the clock.
        technique: the first one taken; empty where none is named.
    """

    worked: bool
    seconds: float
    technique: str = ""


def by_us(rows: Sequence[Row], limit: float) -> list[Effort]:
    """Work rows by our techniques.

    Args:
        rows: integrands with their letters.
        limit: seconds of the processor for a row.
    """
    timed = [_timed(partial(solve, *row), limit) for row in rows]
    return [
        Effort(solution is not None, seconds, solution.technique if solution else "")
        for solution, seconds in timed
    ]


def by_sympy(rows: Sequence[Row], limit: float) -> list[Effort]:
    """Work rows by SymPy; its answers are looked at when all are there.

    Args:
        rows: integrands with their letters.
        limit: seconds of the processor for a row.
    """
    timed = [_timed(partial(_manually, *row), limit) for row in rows]
    return [
        Effort(answer is not None and not _is_refuted(answer, *row), seconds)
        for row, (answer, seconds) in zip(rows, timed, strict=True)
    ]


class _TooLongError(BaseException):
    """A row took longer than it may; no `except Exception` on the way is to take it."""


#: seconds of the processor after which a program that went on all the same is stopped once more
_AGAIN = 1.0


@contextmanager
def _at_most(seconds: float) -> Iterator[None]:
    def stop(_number: int, _frame: FrameType | None) -> None:
        # what is raised while an object is compared or deleted may be lost
        signal.setitimer(signal.ITIMER_PROF, _AGAIN)
        raise _TooLongError

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def _timed(work: Callable[[], _T | None], limit: float) -> tuple[_T | None, float]:
    start = time.perf_counter()
    try:
        with _at_most(limit):
            found = work()
    except (Exception, _TooLongError):  # noqa: BLE001 - a program that fails has not worked the row
        found = None
    return found, time.perf_counter() - start


def _manually(integrand: Expression, variable: Symbol) -> Any:
    import sympy
    from sympy.integrals.manualintegrate import manualintegrate

    from qbank.maths.oracle import to_sympy

    tree = to_sympy(integrand)
    letter = next((one for one in tree.free_symbols if one.name == variable.name), None)
    if letter is None:
        return tree * sympy.Symbol(variable.name, real=True)
    positive = {one: sympy.Symbol(one.name, positive=True) for one in tree.free_symbols if one != letter}
    answer = manualintegrate(tree.subs(positive), letter)
    return None if answer.has(sympy.Integral) else answer


def _is_refuted(answer: Any, integrand: Expression, variable: Symbol) -> bool:
    """Whether an answer is certainly wrong; what we cannot read is not."""
    from qbank.maths.oracle import from_sympy

    tree = from_sympy(answer)
    if tree is None:
        return False
    positive = integrand.symbols() - {variable}
    return isinstance(decide_antiderivative(tree, integrand, variable, positive=positive), Refuted)
