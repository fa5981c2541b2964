"""Marking on other machines: a Dask cluster as an executor of `concurrent.futures`.

The cluster's workers run qbank, so they need the same version of it. What passes between the machines is not protected
by anything here: a cluster is for a network that is trusted, with its own encryption where there are names of students.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.metadata import version
from typing import Any

from qbank.marking.running import Workers

__all__ = ["ClusterError", "cluster_at"]

#: seconds until an address that does not answer is given up
_WAIT = 20
#: chunks under way for each thread of the cluster
_AHEAD = 3


class ClusterError(RuntimeError):
    """A cluster that cannot be used; the text says why and what to do."""


@contextmanager
def cluster_at(address: str) -> Iterator[Workers]:
    """The workers of a cluster.

    Args:
        address: of its scheduler, such as `tcp://10.0.0.5:8786`.

    Yields:
        Where to mark; the connection is closed afterwards.

    Raises:
        ClusterError: Dask is not installed, nobody answers, or the workers have another qbank.
    """
    try:
        from distributed import Client
    except ImportError as problem:
        raise ClusterError("a cluster needs Dask; install it with: pip install 'qbank[cluster]'") from problem
    connect: Any = Client
    try:
        client: Any = connect(address, timeout=_WAIT, set_as_default=False)
    except (OSError, ValueError) as problem:
        raise ClusterError(
            f"no scheduler answers at {address} ({problem}); start one with: dask scheduler"
        ) from problem
    with client:
        _refuse_others(client)
        threads = sum(client.nthreads().values())

        def start() -> Any:
            return client.get_executor(pure=False)

        yield Workers(start=start, count=_AHEAD * threads)


def _refuse_others(client: Any) -> None:
    ours = _version()
    try:
        theirs = client.run(_version)
    except Exception as problem:
        raise ClusterError(
            f"its workers cannot run qbank ({problem}); install qbank {ours} there"
        ) from problem
    if not theirs:
        raise ClusterError("the cluster has no workers; start some with: dask worker ADDRESS")
    for worker, found in sorted(theirs.items()):
        if found != ours:
            raise ClusterError(f"the worker {worker} has qbank {found}; install {ours} there")


def _version() -> str:
    return version("qbank")
