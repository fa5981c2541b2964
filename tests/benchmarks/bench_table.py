"""A class's responses marked in bulk: rows a second on one core, and peak memory at growing size.

The rows are the pairs of the benchmark of verdicts, each in forty spellings; so a tenth of a thousand rows is new and the
rest has been seen, as in a year's answers to the same items (invented data).
"""

from __future__ import annotations

import io
import random
import sys
import time
from collections.abc import Iterator

from qbank.marking import MarkedTable
from qbank.marking.rows import Columns, Row, entry_of
from qbank.marking.spreadsheet import SpreadsheetText
from tests.benchmarks.memory import peak_megabytes, peaks
from tests.benchmarks.pairs import PAIRS

SPELLINGS = 40
SIZES = (10_000, 100_000)


def spelt(response: str, how: int) -> str:
    """The same answer as another student types it."""
    constant = ("+ C", "+C", "+ c", "+ k")[how % 4]
    return (
        " " * (how % 2)
        + response.replace("+ C", constant).replace(" ", " " * (1 + how // 8))
        + " " * (how // 4 % 2)
    )


def rows(count: int) -> Iterator[Row]:
    rng = random.Random(1)
    columns = Columns(names={})
    for number in range(count):
        integrand, response, _ = rng.choice(PAIRS)
        cells = {
            "student": f"s{number}",
            "integrand": integrand,
            "response": spelt(response, rng.randrange(SPELLINGS)),
        }
        yield Row(cells=tuple(cells.items()), entry=entry_of(cells, columns))


def marked(count: int) -> float:
    """Seconds of computing for a table of so many rows."""
    start = time.process_time()
    table = MarkedTable(rows(count), SpreadsheetText(("student", "integrand", "response")))
    out = io.BytesIO()
    for piece in table:
        out.seek(0)
        out.write(piece)
    assert table.rows == count
    return time.process_time() - start


def report() -> list[str]:
    marked(200)
    lines = []
    for size in SIZES:
        seconds = marked(size)
        lines.append(f"{size:,} rows {size / seconds:,.0f} a second")
    return [
        "a class's responses on one core, many alike     " + ", ".join(lines),
        "  peak resident memory: " + peaks("bench_table", (SIZES[0], 10 * SIZES[0]), "rows"),
    ]


def _peak(count: int) -> float:
    marked(count)
    return peak_megabytes()


if __name__ == "__main__":
    if "--peak" in sys.argv:
        print(_peak(int(sys.argv[-1])))
    else:
        print("\n".join(report()))
