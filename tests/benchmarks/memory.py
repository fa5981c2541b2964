"""The peak resident memory of this process alone.

`getrusage` will not do: its peak begins with that of the process which started this one, and hides any growth below it.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

__all__ = ["peak_megabytes", "peaks"]


def peaks(module: str, sizes: tuple[int, ...], what: str) -> str:
    """The peaks of processes that run `module --peak SIZE`, as words.

    Args:
        module: of this folder; prints its peak.
        sizes: one process for each.
        what: what there are so many of.
    """
    found = []
    for size in sizes:
        done = subprocess.run(
            [sys.executable, "-m", f"tests.benchmarks.{module}", "--peak", str(size)],
            capture_output=True,
            text=True,
            check=True,
        )
        found.append(f"{size:,} {what} {float(done.stdout):.0f} MB")
    return ", ".join(found)


def peak_megabytes() -> float:
    """The peak since this program was started, as Linux counts it (`VmHWM`), in MB.

    Raises:
        OSError: the system is not Linux.
    """
    for line in Path("/proc/self/status").read_text(encoding="ascii").splitlines():
        name, _, value = line.partition(":")
        if name == "VmHWM":
            return int(value.split()[0]) / 1e3
    raise OSError("the system does not tell the peak of a process")
