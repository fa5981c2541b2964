"""Verdicts on typed responses, beside the plain SymPy route (parse, differentiate, simplify) on the same pairs."""

from __future__ import annotations

import signal
import statistics
import time
from collections.abc import Callable
from typing import Any

from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Symbol
from qbank.maths.reading import read, read_response
from qbank.maths.verdict import Proved, Refuted
from tests.benchmarks.pairs import PAIRS

LIMIT = 10
REPEATS = 7


class _TimeOutError(Exception):
    pass


def ours(integrand: str, response: str) -> bool | None:
    x = Symbol("x")
    verdict = decide_antiderivative(
        read_response(response, variable=x).tree, read(integrand, variable=x).tree, x
    )
    return True if isinstance(verdict, Proved) else False if isinstance(verdict, Refuted) else None


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

    result = sympy.simplify(sympy.diff(parse(response), x) - parse(integrand))
    return True if result == 0 else False if result.is_number or result.free_symbols else None


def timed(route: Callable[[str, str], bool | None], repeats: int) -> tuple[list[float], int, int]:
    """Seconds for each pair (the best of the repeats), wrong or missing verdicts, time-outs."""

    def stop(*_: object) -> None:
        raise _TimeOutError

    signal.signal(signal.SIGALRM, stop)
    seconds, wrong, late = [], 0, 0
    for integrand, response, right in PAIRS:
        best = float("inf")
        verdict: bool | None = None
        signal.alarm(LIMIT)
        try:
            for _ in range(repeats):
                start = time.perf_counter()
                verdict = route(integrand, response)
                best = min(best, time.perf_counter() - start)
        except _TimeOutError:
            late += 1
            best = LIMIT
        finally:
            signal.alarm(0)
        wrong += verdict is not right
        seconds.append(best)
    return seconds, wrong, late


def report() -> list[str]:
    ours(*PAIRS[0][:2])
    fast, wrong, late = timed(ours, REPEATS)
    plain_sympy(*PAIRS[0][:2])
    slow, slow_wrong, slow_late = timed(plain_sympy, 1)
    ratio = statistics.median(slow) / statistics.median(fast)
    centile = sorted(fast)[min(len(fast) - 1, int(0.99 * len(fast)))]
    slow_centile = sorted(slow)[min(len(slow) - 1, int(0.99 * len(slow)))]
    return [
        f"verdict on a typed response ({len(PAIRS)} pairs)      median ms   99 % ms   not settled right   time-outs ({LIMIT} s)",
        f"  qbank: read, decide                       {statistics.median(fast) * 1e3:9.2f} {centile * 1e3:9.2f} {wrong:12d} {late:14d}",
        f"  SymPy: parse, diff, simplify              {statistics.median(slow) * 1e3:9.2f} {slow_centile * 1e3:9.2f} {slow_wrong:12d} {slow_late:14d}",
        f"  ratio of the medians {ratio:.0f}",
    ]


if __name__ == "__main__":
    print("\n".join(report()))
