"""Marking many entries, in order, here or in other processes or on other machines, each response once.

    entries --chunks--> executor --marks, in order--> one after the other

What was marked lately is remembered, since a class gives few different answers to a question. Only a few chunks are
under way at a time, so that a million entries need no more memory than a thousand. A worker that dies costs nothing but
time: its chunks are marked again, in smaller pieces, until the entry that kills workers stands alone; that entry goes to
a person.
"""

from __future__ import annotations

from collections import OrderedDict, deque
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import Executor, Future
from dataclasses import dataclass, field
from itertools import islice
from typing import Self

from qbank.marking.entry import Entry, Marked, for_a_person, mark_entry

__all__ = ["CHUNK", "Workers", "mark_entries"]

#: entries sent to a worker at a time
CHUNK = 100
#: different entries whose marks are remembered
_REMEMBERED = 50_000
#: how often an entry that stands alone is sent to a worker
_ATTEMPTS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Workers:
    """Where entries are marked.

    Attributes:
        start: makes an executor of `concurrent.futures`; called again when the one before broke down.
        count: chunks that may be under way at a time; a little more than there are workers.
    """

    start: Callable[[], Executor]
    count: int


def mark_entries(
    entries: Iterable[Entry], *, workers: Workers | None = None, chunk: int = CHUNK
) -> Generator[Marked, None, None]:
    """Mark entries in order.

    Args:
        entries: taken as they are needed.
        workers: other processes to mark in; None to mark here.
        chunk: how many entries are sent to a worker at a time.

    Yields:
        One mark for each entry, in the order of the entries; the same whatever the workers.

    >>> marks = mark_entries([Entry(integrand="2x", response="x^2 + C"), Entry(integrand="2x", response="2")])
    >>> [mark.verdict for mark in marks]
    ['correct', 'incorrect']
    """
    known = _Known()
    if workers is None:
        yield from _here(entries, known)
        return
    with _Pool(workers) as pool:
        under_way: deque[_Task] = deque()
        source = iter(entries)
        while True:
            while len(under_way) < workers.count and (batch := tuple(islice(source, chunk))):
                under_way.append(_Task(batch, known, pool))
            if not under_way:
                return
            yield from under_way.popleft().marks()


def _here(entries: Iterable[Entry], known: _Known) -> Iterator[Marked]:
    for entry in entries:
        mark = known.get(entry)
        if mark is None:
            mark = known[entry] = mark_entry(entry)
        yield mark


def _mark_all(entries: tuple[Entry, ...]) -> tuple[Marked, ...]:
    """The work of a worker."""
    return tuple(map(mark_entry, entries))


class _Known(OrderedDict[Entry, Marked]):
    """Marks by entry; the oldest are forgotten."""

    def __setitem__(self, entry: Entry, mark: Marked) -> None:
        super().__setitem__(entry, mark)
        if len(self) > _REMEMBERED:
            self.popitem(last=False)


class _Pool:
    """An executor that is replaced when it breaks down."""

    def __init__(self, workers: Workers) -> None:
        self._start = workers.start
        self._executor: Executor | None = None
        self._futures: deque[Future[tuple[Marked, ...]]] = deque(maxlen=8 * workers.count)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: object, *_: object) -> None:
        if self._executor is not None:
            # after an interruption nobody waits for what is under way
            for future in self._futures:
                future.cancel()
            self._executor.shutdown(wait=kind is None)

    def submit(self, entries: tuple[Entry, ...]) -> Future[tuple[Marked, ...]]:
        self._futures.append(future := self._submit(entries))
        return future

    def _submit(self, entries: tuple[Entry, ...]) -> Future[tuple[Marked, ...]]:
        if self._executor is not None:
            try:
                return self._executor.submit(_mark_all, entries)
            except RuntimeError:
                # broken, or shut down by its owner
                self._executor.shutdown(wait=False)
        self._executor = self._start()
        return self._executor.submit(_mark_all, entries)


@dataclass(slots=True)
class _Task:
    """A chunk under way: what is not known yet is with a worker, each different entry once."""

    entries: tuple[Entry, ...]
    known: _Known
    pool: _Pool
    found: dict[Entry, Marked] = field(init=False)
    wanted: tuple[Entry, ...] = field(init=False)
    future: Future[tuple[Marked, ...]] | None = field(init=False)

    def __post_init__(self) -> None:
        self.found = {entry: self.known[entry] for entry in self.entries if entry in self.known}
        self.wanted = tuple(dict.fromkeys(entry for entry in self.entries if entry not in self.found))
        self.future = self.pool.submit(self.wanted) if self.wanted else None

    def marks(self) -> Iterator[Marked]:
        """Wait for the marks."""
        if self.future is not None:
            self.found |= zip(self.wanted, self._result(self.future, self.wanted), strict=True)
            for entry in self.wanted:
                self.known[entry] = self.found[entry]
        for entry in self.entries:
            yield self.found[entry]

    def _result(
        self, future: Future[tuple[Marked, ...]], entries: tuple[Entry, ...], attempts: int = _ATTEMPTS
    ) -> tuple[Marked, ...]:
        try:
            return future.result()
        except Exception as problem:  # noqa: BLE001 - workers are lost in as many ways as there are executors
            if len(entries) > 1:
                halves = entries[: len(entries) // 2], entries[len(entries) // 2 :]
                return tuple(mark for half in halves for mark in self._result(self.pool.submit(half), half))
            if attempts > 1:
                return self._result(self.pool.submit(entries), entries, attempts - 1)
            return (for_a_person(f"no worker could mark it: {type(problem).__name__}"),)
