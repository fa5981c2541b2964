"""All benchmarks in one run, as one table. Nothing here is a limit; ratios are to plain routes in the same run."""

from __future__ import annotations

import platform

from tests.benchmarks import bench_export, bench_items, bench_startup, bench_table, bench_verdict

if __name__ == "__main__":
    print(f"Python {platform.python_version()}, {platform.machine()}")
    for bench in (bench_verdict, bench_table, bench_items, bench_export, bench_startup):
        print("\n".join(bench.report()), flush=True)
