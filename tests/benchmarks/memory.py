"""The peak resident memory of this process alone.

`getrusage` will not do: its peak begins with that of the process which started this one, and hides any growth below it.
"""

from __future__ import annotations

from pathlib import Path

__all__ = ["peak_megabytes"]


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
