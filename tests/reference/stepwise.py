"""Worked solutions beside SymPy's step-by-step integrator, on the same published rows in the same run.

    python -m tests.reference.stepwise        a table by the chapter that a row stands in; some minutes
    python -m tests.reference.stepwise -v     and the rows that are not worked

The rows are those of course books and handbooks: the exercises of OpenStax Calculus 2 (odd numbers, indefinite), those
of Stewart as the Rubi suite has them, Thompson's table, and the handbooks (DLMF 4.10, 4.26, 4.40; Abramowitz & Stegun
p. 77). Ours counts when every line was proved; SymPy's when no integral is left in `manualintegrate`, right or not.
"""

from __future__ import annotations

import argparse
import csv
import re
import signal
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from statistics import median

from qbank.maths.expression import Expression, Symbol
from qbank.maths.oracle import to_sympy
from qbank.techniques.planner import solve
from tests.reference.report import shared
from tests.reference.rows import ReadingError, Row, rows
from tests.reference.verdicts import RIGHT

LIMIT = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """One row tried by one route."""

    solved: bool
    seconds: float


class _LateError(Exception):
    pass


def chapters() -> Iterator[tuple[str, Row]]:
    """The rows, each with its chapter."""
    for name, chapter in (("openstax", _openstax), ("tables", _handbook), ("rubi", _stewart)):
        path = shared() / "reference" / f"{name}.csv"
        places = {record["id"]: record for record in csv.DictReader(path.open(encoding="utf-8", newline=""))}
        for row in rows(path):
            label = chapter(places[row.name])
            if label and row.status in RIGHT:
                yield label, row


def _openstax(record: dict[str, str]) -> str:
    found = re.match(r"sec\. (\d\.\d [^;]*);", record["locator"])
    return "" if found is None or record["lower"] else f"OpenStax {found.group(1)}"


def _handbook(record: dict[str, str]) -> str:
    source = record["source"]
    if "DLMF" in source:
        return f"DLMF {'.'.join(record['locator'].split('.')[:2])}"
    if "Thompson" in source:
        return "Thompson 1914"
    return "Abramowitz & Stegun" if "Abramowitz" in source else ""


def _stewart(record: dict[str, str]) -> str:
    return "Stewart, as in the Rubi suite" if "Stewart" in record["locator"] else ""


def ours(integrand: Expression, variable: Symbol) -> bool:
    """Whether there is a worked solution; every line of one is proved as it is written."""
    return solve(integrand, variable) is not None


def sympys(integrand: Expression, variable: Symbol) -> bool:
    """Whether SymPy's step-by-step integrator leaves no integral."""
    import sympy
    from sympy.integrals.manualintegrate import manualintegrate

    tree = to_sympy(integrand)
    positive = {s: sympy.Symbol(s.name, positive=True) for s in tree.free_symbols if s.name != variable.name}
    letter = next((s for s in tree.free_symbols if s.name == variable.name), sympy.Symbol(variable.name))
    return not manualintegrate(tree.subs(positive), letter).has(sympy.Integral)


def tried(route: Callable[[Expression, Symbol], bool], integrand: Expression, variable: Symbol) -> Attempt:
    """One route on one row, stopped at the limit."""

    def stop(*_: object) -> None:
        raise _LateError

    signal.signal(signal.SIGALRM, stop)
    start = time.perf_counter()
    signal.alarm(LIMIT)
    try:
        solved = route(integrand, variable)
    except Exception:  # noqa: BLE001 - a route that fails has not solved the row
        solved = False
    finally:
        signal.alarm(0)
    return Attempt(solved=solved, seconds=time.perf_counter() - start)


def line(label: str, pairs: list[tuple[Attempt, Attempt]]) -> str:
    """Rows, how many each route solves, the medians in ms and their ratio."""
    mine, theirs = zip(*pairs, strict=True)
    times = [median(attempt.seconds for attempt in side) * 1e3 for side in (mine, theirs)]
    counts = [sum(attempt.solved for attempt in side) for side in (mine, theirs)]
    return (
        f"{label:34s}{len(pairs):6d}{counts[0]:6d} {counts[0] / len(pairs):6.1%}{counts[1]:7d}"
        f"{times[0]:9.1f}{times[1]:9.1f}{times[1] / times[0]:7.0f}"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description="Worked solutions beside SymPy's manualintegrate.")
    parser.add_argument("-v", "--verbose", action="store_true", help="name the rows that are not worked")
    verbose = parser.parse_args().verbose
    found: dict[str, list[tuple[Attempt, Attempt]]] = {}
    missing = []
    for label, row in chapters():
        try:
            integrand, _ = row.trees()
        except ReadingError:
            continue
        pair = tried(ours, integrand, row.variable), tried(sympys, integrand, row.variable)
        found.setdefault(label, []).append(pair)
        if not pair[0].solved:
            missing.append(f"  {row.name}  {row.integrand}{'' if pair[1].solved else '   (nor by SymPy)'}")
    print(f"{'rows of':34s}{'rows':>6}{'ours':>6} {'':6}{'SymPy':>7}{'ms':>9}{'ms':>9}{'ratio':>7}")
    for label, pairs in found.items():
        print(line(label, pairs))
    print(line("all", [pair for pairs in found.values() for pair in pairs]))
    if verbose:
        print("not worked:", *missing, sep="\n")


if __name__ == "__main__":
    main()
