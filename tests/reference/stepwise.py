"""Published integrals worked line by line, beside SymPy's step-by-step integrator: `python -m tests.reference.stepwise`.

    python -m tests.reference.stepwise --every 8 --limit 10 --rounds 3

Each program works all rows of a kind in a process of its own, one program after the other: neither pays for what the other
has in memory, and ours is without SymPy, as the command `qbank solve` is. Of several rounds, each in new processes that remember
nothing, the best time of each row counts, for both: a machine that is busy for a while is so in one round only.
"""

from __future__ import annotations

import os
from argparse import ArgumentParser
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from multiprocessing import get_context
from statistics import median
from types import TracebackType
from typing import Self

from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain
from tests.reference.report import shared
from tests.reference.stepwise_programs import by_sympy, by_us
from tests.reference.stepwise_rows import KINDS, Row, rows_of

__all__ = ["Programs", "Worked"]


@dataclass(frozen=True, slots=True)
class Worked:
    """One row: whether each program worked it, and how long it took.

    Attributes:
        ours: by our techniques, every line proved.
        seconds: of ours.
        theirs: by SymPy.
        their_seconds: of SymPy.
        technique: ours, or empty.
        integrand: the row.
    """

    ours: bool
    seconds: float
    theirs: bool
    their_seconds: float
    technique: str
    integrand: Expression


class Programs:
    """Both programs, each in a process that lasts as long as this is open."""

    def __init__(self) -> None:
        # a process that begins anew, not a copy of this one with all that it has loaded
        fresh = get_context("spawn")
        self._us, self._sympy = (ProcessPoolExecutor(1, fresh) for _ in range(2))

    def __enter__(self) -> Self:
        # nothing is to be loaded while the clock runs
        self.compare([(Symbol("x"), Symbol("x"))], 60)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._us.shutdown()
        self._sympy.shutdown()

    def compare(self, rows: Iterable[Row], limit: float) -> list[Worked]:
        """Work rows by both.

        Args:
            rows: integrands with their letters.
            limit: seconds of the processor for a row.
        """
        rows = list(rows)
        ours = self._us.submit(by_us, rows, limit).result()
        theirs = self._sympy.submit(by_sympy, rows, limit).result()
        return [
            Worked(our.worked, our.seconds, their.worked, their.seconds, our.technique, integrand)
            for (integrand, _), our, their in zip(rows, ours, theirs, strict=True)
        ]


def best(rounds: Sequence[Sequence[Worked]]) -> list[Worked]:
    """Each row with its best times; what was worked is what the last round says."""
    return [
        replace(
            again[-1],
            seconds=min(one.seconds for one in again),
            their_seconds=min(one.their_seconds for one in again),
        )
        for again in zip(*rounds, strict=True)
    ]


def line(name: str, found: list[Worked]) -> str:
    """One row of the table."""
    ours, theirs = (
        median(times) * 1000 for times in zip(*((w.seconds, w.their_seconds) for w in found), strict=True)
    )
    return (
        f"{name:58s}{len(found):6d}{sum(w.ours for w in found):7d}{sum(w.theirs for w in found):7d}"
        f"{ours:10.1f}{theirs:10.1f}{theirs / ours:8.0f}"
    )


def main() -> None:
    """Print a line for each kind, one for all, and one for each technique of ours that was taken."""
    parser = ArgumentParser(description=__doc__)
    parser.add_argument(
        "--every", type=int, default=1, help="of the kinds with many rows, take every so many"
    )
    parser.add_argument("--limit", type=float, default=10.0, help="seconds for a row")
    parser.add_argument("--kind", default="", help="only the kinds with this in their names")
    parser.add_argument("--missing", action="store_true", help="list the rows that we do not work")
    parser.add_argument("--rounds", type=int, default=1, help="how often everything is worked anew")
    options = parser.parse_args()
    # SymPy's answers depend on the order of its sets; the processes that are started take this over
    os.environ["PYTHONHASHSEED"] = "0"
    kinds = [kind for kind in KINDS if options.kind in kind.name]
    rounds: list[list[list[Worked]]] = []
    for _ in range(options.rounds):
        with Programs() as programs:
            rounds.append(
                [
                    programs.compare(rows_of(kind, shared() / "reference", options.every), options.limit)
                    for kind in kinds
                ]
            )
    print(f"{'kind':58s}  rows   ours  SymPy   ours ms  SymPy ms   ratio")
    everything: list[Worked] = []
    for kind, *each in zip(kinds, *rounds, strict=True):
        found = best(each)
        everything += found
        print(line(kind.name, found))
        for one in found if options.missing else ():
            if not one.ours:
                print(f"    {plain(one.integrand)}{'' if one.theirs else '   (nor does SymPy)'}")
    print(line("all", everything))
    print("\nrows that we work, by the technique taken first (so none is missing in our column)")
    for technique in dict.fromkeys(sorted(one.technique for one in everything if one.ours)):
        print(line(technique, [one for one in everything if one.technique == technique]))


if __name__ == "__main__":
    main()
