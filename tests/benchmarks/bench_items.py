"""Drawn, proved items with distractors and worked solution, per second, over the shipped bank."""

from __future__ import annotations

import statistics
import time
import tracemalloc

from qbank.cli.arguments import open_bank
from qbank.items.cloning import clones

COUNT = 10


def report() -> list[str]:
    bank = open_bank(None)
    for template in bank.templates:
        next(iter(clones(bank, template, 1, 0)))
    times: list[float] = []
    for template in bank.templates:
        start = time.process_time()
        for _ in clones(bank, template, COUNT, 1):
            now = time.process_time()
            times.append(now - start)
            start = now
    each = len(times) / sum(times)
    line = f"items built and proved ({len(times)})   median {statistics.median(times) * 1e3:.1f} ms"
    return [
        f"{line}, slowest {max(times) * 1e3:.1f} ms, {each:.0f} items a second",
        _memory(),
    ]


def _memory() -> str:
    """Peak of traced memory while many clones pass by: flat when nothing is gathered."""
    bank = open_bank(None)
    template = bank.templates[0]
    peaks = []
    for count in (80, 320):
        tracemalloc.start()
        for _ in clones(bank, template, count, 1):
            pass
        peaks.append(tracemalloc.get_traced_memory()[1] / 1e6)
        tracemalloc.stop()
    return f"  peak memory for 80 and 320 clones of one template: {peaks[0]:.1f} and {peaks[1]:.1f} MB"


if __name__ == "__main__":
    print("\n".join(report()))
