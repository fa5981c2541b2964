"""Published integrals worked line by line, beside SymPy's step-by-step integrator: `python -m tests.reference.stepwise`.

    python -m tests.reference.stepwise --every 8 --limit 10

Kinds are told by where a row was published: the section of a textbook, or the part of a suite that is sorted by the shape of
the integrand. So neither program chooses them. A row counts for us when every line is proved, for SymPy when nothing is left
to be integrated and its answer is not refuted; its parameters are positive. A row is stopped after so many seconds of the
processor, for both, so that a busy machine stops no row sooner; times are by the clock. Both keep what they remember from
row to row.
"""

from __future__ import annotations

import csv
import signal
import time
from argparse import ArgumentParser
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from itertools import islice
from pathlib import Path
from statistics import median
from types import FrameType
from typing import Any, TypeVar

import sympy
from sympy.integrals.manualintegrate import manualintegrate

from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain
from qbank.maths.oracle import from_sympy, to_sympy
from qbank.maths.reading import ReadingError, read
from qbank.maths.verdict import Refuted
from qbank.techniques import solve
from tests.reference.report import shared

__all__ = ["KINDS", "Kind", "Worked", "compare", "rows_of"]


@dataclass(frozen=True, slots=True)
class Kind:
    """Rows that were published as being of one kind.

    Attributes:
        name: of the technique, and where the rows stand.
        file: the file beside the checkout.
        starts: how their locators (or sources) begin.
        spread: whether the suite has so many that every so many are taken.
    """

    name: str
    file: str
    starts: tuple[str, ...]
    spread: bool = False


_T = TypeVar("_T")

KINDS = (
    Kind("substitution (OpenStax 1.5)", "openstax", ("sec. 1.5",)),
    Kind("exponentials, logarithms (OpenStax 1.6)", "openstax", ("sec. 1.6",)),
    Kind("inverse circular functions (OpenStax 1.7)", "openstax", ("sec. 1.7",)),
    Kind("parts (OpenStax 3.1)", "openstax", ("sec. 3.1",)),
    Kind("powers of circular functions (OpenStax 3.2)", "openstax", ("sec. 3.2",)),
    Kind("trigonometric substitution (OpenStax 3.3)", "openstax", ("sec. 3.3",)),
    Kind("partial fractions (OpenStax 3.4)", "openstax", ("sec. 3.4",)),
    Kind("a course, mixed (Stewart)", "rubi", ("0 Independent test suites/Stewart",), spread=True),
    Kind("a course, mixed (Apostol)", "rubi", ("0 Independent test suites/Apostol",), spread=True),
    Kind(
        "handbooks (DLMF, Abramowitz & Stegun, Thompson, Peirce)", "tables", ("NIST", "Abr", "S. P.", "B. O.")
    ),
    Kind(
        "rational functions (Rubi 1.3.1)",
        "rubi",
        ("1 Algebraic functions/1.3 Miscellaneous/1.3.1",),
        spread=True,
    ),
    Kind(
        "products of linear factors and roots (Rubi 1.1.1)",
        "rubi",
        ("1 Algebraic functions/1.1 Binomial products/1.1.1",),
        spread=True,
    ),
    Kind(
        "roots of quadratics (Rubi 1.1.2, 1.2.1.1)",
        "rubi",
        (
            "1 Algebraic functions/1.1 Binomial products/1.1.2",
            "1 Algebraic functions/1.2 Trinomial products/1.2.1 Quadratic/1.2.1.1",
        ),
        spread=True,
    ),
    Kind("exponentials (Rubi 2)", "rubi", ("2 Exp",), spread=True),
    Kind("logarithms (Rubi 3)", "rubi", ("3 Log",), spread=True),
    Kind(
        "powers of circular functions (Rubi 4.1.0 to 4.6.0)",
        "rubi",
        tuple(
            f"4 Trig functions/4.{k} {name}/4.{k}.0"
            for k, name in enumerate(("Sine", "Cosine", "Tangent", "Cotangent", "Secant", "Cosecant"), 1)
        ),
        spread=True,
    ),
    Kind(
        "a + b sin, a + b cos below (Rubi 4.1.1.1, 4.2.1.1)",
        "rubi",
        ("4 Trig functions/4.1 Sine/4.1.1.1", "4 Trig functions/4.2 Cosine/4.2.1.1"),
    ),
    Kind("different angles (Rubi 4.7.1)", "rubi", ("4 Trig functions/4.7 Miscellaneous/4.7.1",), spread=True),
    Kind("inverse circular functions (Rubi 5)", "rubi", ("5 Inv",), spread=True),
    Kind("hyperbolic functions (Rubi 6)", "rubi", ("6 Hyp",), spread=True),
)


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


def rows_of(kind: Kind, folder: Path, every: int) -> Iterator[tuple[Expression, Symbol]]:
    """The indefinite rows of a kind that are right and in the reader's language."""
    with (folder / f"{kind.file}.csv").open(encoding="utf-8", newline="") as file:
        column = "source" if kind.file == "tables" else "locator"
        right = (
            row
            for row in csv.DictReader(file)
            if row[column].startswith(kind.starts) and not row.get("lower") and row["status"].startswith("ok")
        )
        for row in islice(right, 0, None, every if kind.spread else 1):
            variable = Symbol(row["variable"])
            try:
                yield read(row["integrand"].replace("E**", "e**"), variable=variable).tree, variable
            except ReadingError:
                continue


class _TooLongError(Exception):
    """A row took longer than it may."""


@contextmanager
def _at_most(seconds: float) -> Iterator[None]:
    def stop(_number: int, _frame: FrameType | None) -> None:
        raise _TooLongError

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def compare(rows: Iterable[tuple[Expression, Symbol]], limit: float) -> list[Worked]:
    """Work rows by both."""
    found = []
    for integrand, variable in rows:
        technique, seconds = _timed(partial(_ours, integrand, variable), limit)
        theirs, their_seconds = _timed(partial(_theirs, integrand, variable), limit)
        answered = theirs is not None and not _is_refuted(theirs, integrand, variable)
        found.append(
            Worked(technique is not None, seconds, answered, their_seconds, technique or "", integrand)
        )
    return found


def _ours(integrand: Expression, variable: Symbol) -> str | None:
    solution = solve(integrand, variable)
    return None if solution is None else solution.technique


def _theirs(integrand: Expression, variable: Symbol) -> Any:
    tree = to_sympy(integrand)
    letter = next((one for one in tree.free_symbols if one.name == variable.name), None)
    if letter is None:
        return tree * sympy.Symbol(variable.name, real=True)
    positive = {one: sympy.Symbol(one.name, positive=True) for one in tree.free_symbols if one != letter}
    answer = manualintegrate(tree.subs(positive), letter)
    return None if answer.has(sympy.Integral) else answer


def _timed(work: Callable[[], _T | None], limit: float) -> tuple[_T | None, float]:
    start = time.perf_counter()
    try:
        with _at_most(limit):
            found = work()
    except Exception:  # noqa: BLE001 - a program that fails has not worked the row
        found = None
    return found, time.perf_counter() - start


def _is_refuted(answer: Any, integrand: Expression, variable: Symbol) -> bool:
    """Whether an answer is certainly wrong; what we cannot read is not."""
    tree = from_sympy(answer)
    if tree is None:
        return False
    positive = integrand.symbols() - {variable}
    return isinstance(decide_antiderivative(tree, integrand, variable, positive=positive), Refuted)


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
    options = parser.parse_args()
    print(f"{'kind':58s}  rows   ours  SymPy   ours ms  SymPy ms   ratio")
    everything: list[Worked] = []
    compare([(Symbol("x"), Symbol("x"))], options.limit)  # so that nothing is loaded while the clock runs
    for kind in (one for one in KINDS if options.kind in one.name):
        found = compare(rows_of(kind, shared() / "reference", options.every), options.limit)
        everything += found
        print(line(kind.name, found), flush=True)
        for one in found if options.missing else ():
            if not one.ours:
                print(f"    {plain(one.integrand)}{'' if one.theirs else '   (nor does SymPy)'}")
    print(line("all", everything))
    print("\nrows that we work, by the technique taken first (so none is missing in our column)")
    for technique in dict.fromkeys(sorted(one.technique for one in everything if one.ours)):
        print(line(technique, [one for one in everything if one.technique == technique]))


if __name__ == "__main__":
    main()
