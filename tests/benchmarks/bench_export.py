"""Export in every format against the bare cost of serialising and zipping the same bytes, and its peak memory.

The bare cost is what remains when everything is already there: parse the finished files, then time lxml serialising them
and `zipfile` packing them, or `json` dumping the finished value. Times are of the processor, the best of a few runs in turns, as the machine
may be shared; what the notations remember of earlier formulas is forgotten before each run.

    python -m tests.benchmarks.bench_export            200 clones in every format; memory at 300 and 1,000 items
    python -m tests.benchmarks.bench_export --large    1,000 clones; memory at 1,000 and 10,000 items; some minutes
"""

from __future__ import annotations

import gc
import json
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import cycle, islice
from pathlib import Path
from typing import Any

from lxml import etree

from qbank.cli.arguments import open_bank
from qbank.items.cloning import ShortageError, clones
from qbank.items.deck import Deck, Section
from qbank.items.decking import deal
from qbank.items.item import Item
from qbank.maths.notation import hand
from qbank.writers import WRITERS, Options, Writer, save
from tests.benchmarks.memory import peak_megabytes, peaks

CLONES, SIZES = 200, (300, 1_000)
RUNS = 5
LARGE_CLONES, LARGE_SIZES = 1_000, (1_000, 10_000)

#: as a bank, since tests of equal build leave out the clones that do not come out even
OPTIONS = Options(purpose="bank")


def drawn(count: int) -> Deck:
    """That many clones of the templates of the shipped bank, drawn beforehand so that only the export is timed."""
    bank = open_bank(None)
    each = -(-count // len(bank.templates))
    sections, left = [], count
    for template in bank.templates:
        items: tuple[Item, ...] = ()
        for wanted in (each, 5):
            try:
                items = tuple(clones(bank, template, wanted, 1))[:left]
                break
            except ShortageError:
                continue
        if items:
            sections.append(Section(template=template.identifier, title=template.title, items=items))
            left -= len(items)
    return replace(deal(bank, count=1, seed=1), sections=tuple(sections), source=None)


def seconds(*actions: Callable[[], object]) -> tuple[float, ...]:
    """The best of a few runs of each action, which take turns: a machine that is busy for a while is busy for all."""
    best = [float("inf")] * len(actions)
    for _ in range(RUNS):
        for at, action in enumerate(actions):
            hand.hand_of.cache_clear()
            start = time.process_time()
            action()
            best[at] = min(best[at], time.process_time() - start)
    return tuple(best)


@dataclass(frozen=True, slots=True)
class Finished:
    """What an export wrote, read back, to be written again by the plainest route.

    Attributes:
        value: the trees of the members of a package by their paths, or the value of a JSON document.
        target: where it is written again.
        packing: how members are packed.
    """

    value: Any
    target: Path
    packing: int | None

    def write(self) -> None:
        if self.packing is None:
            text = json.dumps(self.value, ensure_ascii=False, separators=(",", ":"))
            self.target.write_bytes(text.encode())
            return
        with zipfile.ZipFile(self.target, "w", self.packing) as archive:
            for path, tree in self.value.items():
                data = etree.tostring(tree, xml_declaration=True, encoding="UTF-8")
                archive.writestr(zipfile.ZipInfo(path), data, self.packing)


def report(*, large: bool = False) -> list[str]:
    deck = drawn(LARGE_CLONES if large else CLONES)
    count = sum(len(tuple(section.items)) for section in deck.sections)
    # in an export clones come and go; these stay, and the collector of cycles is not to look at all of them again and again
    gc.collect()
    gc.freeze()
    lines = [f"Export of {count:,} clones: stored, and deflated"]
    with tempfile.TemporaryDirectory() as folder:
        for writer in WRITERS.values():
            lines += _format(writer, deck, count, Path(folder))
    gc.unfreeze()
    memory = peaks("bench_export", LARGE_SIZES if large else SIZES, "items")
    return [*lines, f"  peak resident memory, all formats one after the other: {memory}"]


def _format(writer: Writer, deck: Deck, count: int, folder: Path) -> list[str]:
    if writer.suffix != ".zip":
        return [_line(writer, deck, count, folder, None)]
    return [
        _line(writer, deck, count, folder, packing) for packing in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
    ]


def _line(writer: Writer, deck: Deck, count: int, folder: Path, packing: int | None) -> str:
    target = folder / "ours"
    deflate = packing == zipfile.ZIP_DEFLATED
    write = partial(save, writer, deck, target, options=OPTIONS, force=True, deflate=deflate)
    write()
    ours, bare = seconds(write, Finished(_read(target, packing), folder / "bare", packing).write)
    return (
        f"  {writer.name + (' deflated' if deflate else ''):15} {ours:5.2f} s {target.stat().st_size / 1e6:6.2f} MB"
        f" {ours / count * 1e3:6.2f} ms an item; bare {bare / count * 1e3:.2f} ms (ratio {ours / bare:.1f})"
    )


def _read(target: Path, packing: int | None) -> Any:
    if packing is None:
        return json.loads(target.read_bytes())
    with zipfile.ZipFile(target) as archive:
        return {name: etree.fromstring(archive.read(name)) for name in archive.namelist()}


class Many:
    """Some items again and again, under new names."""

    def __init__(self, items: tuple[Item, ...], count: int) -> None:
        self._items = items
        self._count = count

    def __iter__(self) -> Iterator[Item]:
        for number, item in enumerate(islice(cycle(self._items), self._count)):
            yield replace(item, identifier=f"clone-{number}")


def _peak(count: int) -> float:
    some = drawn(100)
    items = tuple(item for section in some.sections for item in section.items)
    section = Section(template="many", title="Many", items=Many(items, count))
    deck = replace(some, sections=(section,))
    with tempfile.TemporaryDirectory() as folder:
        for name, writer in WRITERS.items():
            save(writer, deck, Path(folder) / name, options=OPTIONS, deflate=True)
    return peak_megabytes()


if __name__ == "__main__":
    if "--peak" in sys.argv:
        print(_peak(int(sys.argv[-1])))
    else:
        print("\n".join(report(large="--large" in sys.argv)))
