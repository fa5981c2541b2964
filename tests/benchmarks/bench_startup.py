"""How long `qbank --help` takes, beside a bare start of the interpreter."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time

REPEATS = 11


def seconds(*command: str) -> float:
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def report() -> list[str]:
    bare = seconds(sys.executable, "-c", "pass")
    ours = seconds(sys.executable, "-m", "qbank", "--help")
    return [
        f"start-up                                        qbank --help {ours * 1e3:.0f} ms, bare interpreter {bare * 1e3:.0f} ms"
    ]


if __name__ == "__main__":
    print("\n".join(report()))
