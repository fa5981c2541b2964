"""All benchmarks in one run, as one table. Nothing here is a limit; ratios are to plain routes in the same run.

Each has a process of its own, so that none pays for what another has left in memory.
"""

from __future__ import annotations

import platform
import subprocess
import sys

BENCHMARKS = ("bench_verdict", "bench_table", "bench_items", "bench_export", "bench_startup")

if __name__ == "__main__":
    print(f"Python {platform.python_version()}, {platform.machine()}", flush=True)
    for bench in BENCHMARKS:
        subprocess.run([sys.executable, "-m", f"tests.benchmarks.{bench}"], check=True)
