"""Marking many entries: in order whatever marks them, each different one once, and nothing lost with a worker."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from typing import Any

import pytest

from qbank.marking import Entry, Marked, Workers, mark_entries, mark_entry, running

ENTRIES = [
    Entry(integrand="2x", response=response)
    for response in ("x^2 + C", "2", "x^2", "(", "x^2 + C", "x^2 + 3", "x^2 + C")
]
VERDICTS = ["correct", "incorrect", "correct", "unreadable", "correct", "correct", "correct"]


def verdicts(workers: Workers | None, chunk: int = 2) -> list[str]:
    return [mark.verdict for mark in mark_entries(iter(ENTRIES), workers=workers, chunk=chunk)]


def test_here() -> None:
    assert verdicts(None) == VERDICTS


@pytest.mark.parametrize("chunk", [1, 3, 100])
def test_in_any_executor(chunk: int) -> None:
    assert verdicts(Workers(start=lambda: ThreadPoolExecutor(2), count=3), chunk) == VERDICTS


def test_each_different_entry_is_marked_once(monkeypatch: pytest.MonkeyPatch) -> None:
    marked: list[Entry] = []

    def noted(entry: Entry) -> Marked:
        marked.append(entry)
        return mark_entry(entry)

    monkeypatch.setattr(running, "mark_entry", noted)
    assert verdicts(None) == VERDICTS
    assert verdicts(Workers(start=lambda: ThreadPoolExecutor(1), count=1)) == VERDICTS
    assert marked == 2 * list(dict.fromkeys(ENTRIES))


def test_little_is_remembered_and_little_is_under_way(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(running, "_REMEMBERED", 2)
    taken = 0

    def many() -> Any:
        nonlocal taken
        for entry in ENTRIES * 20:
            taken += 1
            yield entry

    marks = mark_entries(many(), workers=Workers(start=lambda: ThreadPoolExecutor(1), count=2), chunk=5)
    assert next(marks).verdict == "correct"
    assert taken == 10
    assert [mark.verdict for mark in marks] == (VERDICTS * 20)[1:]


class Dying(ThreadPoolExecutor):
    """Dies with an entry that kills workers, and with every one after it."""

    def __init__(self, kills: Callable[[tuple[Entry, ...]], bool]) -> None:
        super().__init__(1)
        self.dead = False
        self._kills = kills

    def submit(self, work: Any, /, *args: Any, **_: Any) -> Future[Any]:
        if self.dead:
            raise RuntimeError("a process of the pool died")
        self.dead = self._kills(args[0])
        if not self.dead:
            return super().submit(work, *args)
        lost: Future[Any] = Future()
        lost.set_exception(RuntimeError("a process of the pool died"))
        return lost


@pytest.mark.parametrize("chunk", [1, 2, 7])
def test_an_entry_that_kills_workers_goes_to_a_person_and_no_other(chunk: int) -> None:
    started: list[Executor] = []

    def start() -> Executor:
        started.append(Dying(lambda entries: ENTRIES[1] in entries))
        return started[-1]

    marks = list(mark_entries(ENTRIES, workers=Workers(start=start, count=3), chunk=chunk))
    assert [mark.verdict for mark in marks] == [VERDICTS[0], "unsettled", *VERDICTS[2:]]
    assert marks[1].proof == "no worker could mark it: RuntimeError"
    assert len(started) <= 12


def test_a_worker_lost_once_costs_nothing() -> None:
    losses = [True, False]
    workers = Workers(start=lambda: Dying(lambda _: bool(losses) and losses.pop(0)), count=3)
    assert verdicts(workers) == VERDICTS
    assert not losses


def test_a_fault_of_ours_costs_one_mark(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise ZeroDivisionError("no")

    monkeypatch.setattr("qbank.marking.entry.AntiderivativeMarker.mark", fails)
    mark = mark_entry(ENTRIES[0])
    assert (mark.verdict, mark.score, mark.usable) == ("unsettled", None, True)
    assert "ZeroDivisionError: no" in mark.proof


def test_nobody_waits_after_an_interruption() -> None:
    executor = ThreadPoolExecutor(1)
    marks = mark_entries(ENTRIES * 40, workers=Workers(start=lambda: executor, count=2), chunk=3)
    next(marks)
    with pytest.raises(KeyboardInterrupt):
        marks.throw(KeyboardInterrupt())
    with pytest.raises(RuntimeError):
        executor.submit(print)


def test_in_other_processes_one_of_which_is_killed() -> None:
    """A worker process that ends in the middle, as the system might end it."""
    pools: list[ProcessPoolExecutor] = []

    def start() -> Executor:
        pool = ProcessPoolExecutor(1, mp_context=get_context("spawn"))
        if not pools:
            pool.submit(os._exit, 1)
        pools.append(pool)
        return pool

    assert verdicts(Workers(start=start, count=2), 4) == VERDICTS
    assert len(pools) == 2
