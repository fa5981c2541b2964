"""Marking on a cluster: the same table as without one, also when a worker is killed half way."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from importlib.metadata import version
from typing import Any

import pytest

from qbank.marking import Entry, cluster, mark_entries
from qbank.marking.cluster import ClusterError, cluster_at

distributed = pytest.importorskip("distributed", reason="the extra 'cluster' is not installed")

pytestmark = pytest.mark.filterwarnings(
    "ignore:.*:ResourceWarning", "ignore::pytest.PytestUnraisableExceptionWarning"
)

ENTRIES = [
    Entry(
        integrand=f"{n} sin({m} x)^3", response=f"{n}/{m}*(cos({m} x)^3/3 - cos({m} x)) + C" if n % 3 else "x"
    )
    for n in range(1, 16)
    for m in range(2, 12)
]


@pytest.fixture(scope="module")
def local() -> Iterator[Any]:
    settings = {"distributed.scheduler.worker-ttl": "10 s", "distributed.scheduler.allowed-failures": 3}
    import dask

    with (
        dask.config.set(settings),
        distributed.LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, silence_logs=50
        ) as made,
    ):
        yield made


@pytest.mark.no_cover  # the work is done by other processes
def test_a_worker_is_killed_half_way(local: Any) -> None:
    wanted = list(mark_entries(ENTRIES))
    found = []
    with cluster_at(local.scheduler_address) as workers:
        assert workers.count >= 2
        for at, mark in enumerate(mark_entries(ENTRIES, workers=workers, chunk=10)):
            found.append(mark)
            if at == len(ENTRIES) // 4:
                worker = next(iter(local.workers.values()))
                worker.process.process.kill()
    assert found == wanted
    assert {mark.verdict for mark in found} == {"correct", "incorrect"}


def test_workers_of_another_version_are_refused(local: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    versions = iter(["9.9"])
    monkeypatch.setattr("qbank.marking.cluster.version", lambda name: next(versions, None) or version(name))
    with pytest.raises(ClusterError, match=r"install 9\.9 there"), cluster_at(local.scheduler_address):
        pass


def test_nobody_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cluster, "_WAIT", 0.2)
    with pytest.raises(ClusterError, match="no scheduler answers"), cluster_at("tcp://127.0.0.1:9"):
        pass


def test_without_dask(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(ClusterError, match=r"qbank\[cluster\]"), cluster_at("tcp://127.0.0.1:9"):
        pass
