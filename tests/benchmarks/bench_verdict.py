"""Verdicts on typed responses, beside the plain SymPy route (parse, differentiate, simplify) on the same pairs.

The first response to an integrand pays for reading the integrand and for what is remembered of it; further responses,
as in a class, do not. Both are timed, the first with everything forgotten beforehand.
"""

from __future__ import annotations

import signal
import statistics
import time
from collections.abc import Callable
from typing import Any, NamedTuple

from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Expression, Symbol
from qbank.maths.points import _right_side
from qbank.maths.reading import read, read_response
from qbank.maths.verdict import Proved, Refuted
from tests.benchmarks.bank_pairs import bank_pairs
from tests.benchmarks.pairs import PAIRS

LIMIT = 10
REPEATS = 7


class _TimeOutError(Exception):
    pass


X = Symbol("x")
Pairs = tuple[tuple[str, str, bool], ...]


def first(integrand: str, response: str) -> bool | None:
    """Both texts read, and decided with nothing known of the integrand."""
    return verdict(read(integrand, variable=X).tree, response)


def further(integrand: Expression, response: str) -> bool | None:
    """The response read, and decided, to an integrand that was read before."""
    return verdict(integrand, response)


def verdict(integrand: Expression, response: str) -> bool | None:
    found = decide_antiderivative(read_response(response, variable=X).tree, integrand, X)
    return True if isinstance(found, Proved) else False if isinstance(found, Refuted) else None


def forget(integrand: str) -> str:
    """The integrand itself, with all that was remembered of integrands forgotten."""
    _right_side.cache_clear()
    return integrand


def known(integrand: str) -> Expression:
    """The integrand read and decided about once."""
    tree = read(integrand, variable=X).tree
    verdict(tree, "x")
    return tree


def plain_sympy(integrand: str, response: str) -> bool | None:
    import sympy
    from sympy.parsing.sympy_parser import (
        convert_xor,
        implicit_multiplication_application,
        parse_expr,
        standard_transformations,
    )

    x = sympy.Symbol("x", real=True)
    names = {
        "x": x,
        "ln": sympy.log,
        "arctan": sympy.atan,
        "arcsin": sympy.asin,
        "arccos": sympy.acos,
        "cosec": sympy.csc,
        "e": sympy.E,
    }
    rules = (*standard_transformations, convert_xor, implicit_multiplication_application)

    def parse(text: str) -> Any:
        while "|" in text:
            text = text.replace("|", "Abs(", 1).replace("|", ")", 1)
        return parse_expr(text, local_dict=names, transformations=rules)

    try:
        answer, wanted = parse(response), parse(integrand)
    except (SyntaxError, TypeError, ValueError):  # it reads `4 sec x tan x - 4 ln|sec x + tan x|` its own way
        return None
    result = sympy.simplify(sympy.diff(answer, x) - wanted)
    return True if result == 0 else False if result.is_number or result.free_symbols else None


def timed(
    pairs: Pairs, route: Callable[[Any, str], bool | None], repeats: int, prepare: Callable[[str], Any] = str
) -> Timing:
    """The route on each pair, the best of the repeats; `prepare` is not timed and gives what the route is asked with."""

    def stop(*_: object) -> None:
        raise _TimeOutError

    signal.signal(signal.SIGALRM, stop)
    seconds, wrong, late = [], 0, 0
    for integrand, response, right in pairs:
        best = float("inf")
        found: bool | None = None
        signal.alarm(LIMIT)
        try:
            for _ in range(repeats):
                prepared = prepare(integrand)
                start = time.perf_counter()
                found = route(prepared, response)
                best = min(best, time.perf_counter() - start)
        except _TimeOutError:
            late += 1
            best = LIMIT
        finally:
            signal.alarm(0)
        wrong += found is not right
        seconds.append(best)
    return Timing(sorted(seconds), wrong, late)


class Timing(NamedTuple):
    """Seconds for each pair in order of size, wrong or missing verdicts, time-outs."""

    seconds: list[float]
    wrong: int
    late: int

    @property
    def median(self) -> float:
        return statistics.median(self.seconds)

    def line(self, label: str) -> str:
        centile = self.seconds[min(len(self.seconds) - 1, int(0.99 * len(self.seconds)))]
        return (
            f"  {label:40s} {self.median * 1e3:10.2f} {centile * 1e3:9.2f} {self.wrong:12d} {self.late:14d}"
        )


def report() -> list[str]:
    return [
        *compared("verdict on a typed textbook response", PAIRS),
        *compared("verdict on a response to a shipped bank", bank_pairs()),
    ]


def compared(what: str, pairs: Pairs) -> list[str]:
    """Both routes on the same pairs."""
    first(*pairs[0][:2])
    cold, warm = timed(pairs, first, REPEATS, forget), timed(pairs, further, REPEATS, known)
    plain_sympy(*pairs[0][:2])
    slow = timed(pairs, plain_sympy, 1)
    head = f"{f'{what} ({len(pairs)} pairs)':42s}  median ms   99 % ms   not settled right"
    ratios = [slow.median / cold.median, slow.median / warm.median]
    ratios += [sum(slow.seconds) / sum(cold.seconds), sum(slow.seconds) / sum(warm.seconds)]
    return [
        f"{head}   time-outs ({LIMIT} s)",
        cold.line("qbank: first response to an integrand"),
        warm.line("qbank: further responses to it"),
        slow.line("SymPy: parse, diff, simplify"),
        "  ratio of the medians {:.0f} (first response), {:.0f} (further responses); of the time for all pairs"
        " {:.0f} and {:.0f}".format(*ratios),
    ]


if __name__ == "__main__":
    print("\n".join(report()))
