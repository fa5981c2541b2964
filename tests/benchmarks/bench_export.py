"""Export against the bare cost of serialising and zipping the same bytes, and its peak memory at growing size.

The bare cost is what remains when every element is already there: parse the finished files, then time lxml serialising
them and `zipfile` packing them. Beside it stands the cost of also making the elements one by one, from values that are
already in their final form, which no writer can avoid. Times are of the processor, as the machine may be shared.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from lxml import etree

from qbank.cli.arguments import open_bank
from qbank.items.cloning import ShortageError, clones
from qbank.items.deck import Deck, Section
from qbank.items.decking import deal
from qbank.writers import WRITERS, save

CLONES = 5
SIZES = (300, 3_000)


def drawn(count: int = CLONES) -> Deck:
    """Clones of every template of the shipped bank, drawn beforehand so that only the export is timed."""
    bank = open_bank(None)
    sections = []
    for template in bank.templates:
        try:
            items = tuple(clones(bank, template, count, 1))
        except ShortageError:
            continue
        sections.append(Section(template=template.identifier, title=template.title, items=items))
    empty = deal(bank, count=1, seed=1)
    return Deck(
        bank=empty.bank,
        title=empty.title,
        language=empty.language,
        licence=empty.licence,
        authors=empty.authors,
        version=empty.version,
        seed=empty.seed,
        sections=tuple(sections),
    )


def seconds(action: Callable[[], object]) -> float:
    """The best of three runs."""
    best = float("inf")
    for _ in range(3):
        start = time.process_time()
        action()
        best = min(best, time.process_time() - start)
    return best


def rebuilt(element: Any) -> Any:
    """The same tree, made anew element by element."""
    if not isinstance(element.tag, str):
        return element
    new = etree.Element(element.tag, dict(element.attrib), nsmap=element.nsmap)
    new.text, new.tail = element.text, element.tail
    stack = [(element, new)]
    while stack:
        old, copy = stack.pop()
        for child in old:
            made = etree.SubElement(copy, child.tag, dict(child.attrib))
            made.text, made.tail = child.text, child.tail
            stack.append((child, made))
    return new


def pack(members: dict[str, bytes], target: Path, packing: int) -> None:
    with zipfile.ZipFile(target, "w", packing) as archive:
        for path, data in members.items():
            archive.writestr(zipfile.ZipInfo(path), data, packing)


def report() -> list[str]:
    deck = drawn()
    count = sum(len(tuple(section.items)) for section in deck.sections)
    lines = []
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / "out"
        for deflate in (False, True):
            lines += _package(deck, count, target, deflate=deflate)
        lines.append(_json(deck, count, target))
    return [*lines, *_memory()]


def _package(deck: Deck, count: int, target: Path, *, deflate: bool) -> list[str]:
    packing = zipfile.ZIP_DEFLATED if deflate else zipfile.ZIP_STORED
    ours = seconds(lambda: save(WRITERS["qti3"], deck, target, force=True, deflate=deflate))
    size = target.stat().st_size / 1e6
    with zipfile.ZipFile(target) as archive:
        trees = {name: etree.fromstring(archive.read(name)) for name in archive.namelist()}

    def bare(make: Callable[[Any], Any]) -> None:
        members = {
            path: etree.tostring(make(tree), xml_declaration=True, encoding="UTF-8")
            for path, tree in trees.items()
        }
        pack(members, target, packing)

    serialised = seconds(lambda: bare(lambda tree: tree))
    built = seconds(lambda: bare(rebuilt))
    how = "deflated" if deflate else "stored"
    line = (
        f"QTI 3.0 package, {how} ({count} items, {size:.1f} MB)   {ours / count * 1e3:.2f} ms an item;"
        f" bare serialising and zipping {serialised / count * 1e3:.2f} ms (ratio {ours / serialised:.1f}),"
        f" with making the elements {built / count * 1e3:.2f} ms (ratio {ours / built:.1f})"
    )
    return [line]


def _json(deck: Deck, count: int, target: Path) -> str:
    ours = seconds(lambda: save(WRITERS["json"], deck, target, force=True))
    return f"generic JSON ({count} items, {target.stat().st_size / 1e6:.1f} MB)   {ours / count * 1e3:.2f} ms an item"


def _memory() -> list[str]:
    """Peak resident memory of a process that exports one item again and again under new names."""
    peaks = []
    for size in SIZES:
        done = subprocess.run(
            [sys.executable, "-m", "tests.benchmarks.bench_export", "--peak", str(size)],
            capture_output=True,
            text=True,
            check=True,
        )
        peaks.append(f"{size:,} items {float(done.stdout):.0f} MB")
    return ["  peak resident memory of an export: " + ", ".join(peaks)]


def _peak(count: int) -> float:
    import resource
    from collections.abc import Iterator
    from dataclasses import replace

    from qbank.items.item import Item

    bank = open_bank(None)
    item = next(iter(clones(bank, bank.templates[0], 1, 1)))

    class Many:
        def __iter__(self) -> Iterator[Item]:
            return (replace(item, identifier=f"clone-{number}") for number in range(count))

    section = Section(template=item.template, title=item.title, items=Many())
    deck = Deck(
        bank="many",
        title="Many",
        language="en",
        licence="CC0-1.0",
        authors=(),
        version="1",
        seed="1",
        sections=(section,),
    )
    with tempfile.TemporaryDirectory() as folder:
        for name, writer in WRITERS.items():
            save(writer, deck, Path(folder) / name, deflate=True)
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3


if __name__ == "__main__":
    if "--peak" in sys.argv:
        print(_peak(int(sys.argv[-1])))
    else:
        print("\n".join(report()))
