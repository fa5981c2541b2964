"""Files of responses on the command line: opened whatever their encoding, marked, and written beside their rows."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

import click

from qbank.bank.policy import ACCEPTING, Policy
from qbank.cli.arguments import fail
from qbank.marking.cluster import ClusterError, cluster_at
from qbank.marking.json_lines import JsonLines, JsonLinesText
from qbank.marking.rows import Columns, Row, TableError, with_pseudonyms
from qbank.marking.running import Workers
from qbank.marking.spreadsheet import Spreadsheet, SpreadsheetText
from qbank.marking.table import MarkedTable
from qbank.packages.opening import PackageError
from qbank.packages.results import COLUMNS, questions_of, result_rows
from qbank.writers import OutputError
from qbank.writers.archive import go_on_writing, unfinished

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

__all__ = ["HowToRead", "mark_file"]

_MARKS = {b"\xef\xbb\xbf": "utf-8-sig", b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16"}
#: what spreadsheets write in Western Europe when they do not write UTF-8 (common practice)
_OTHER = "cp1252"
_PIECE = 1 << 20
_JSON = (".jsonl", ".ndjson")


@dataclass(frozen=True, slots=True, kw_only=True)
class HowToRead:
    """What a person says of a file of responses; what is None is found out.

    Attributes:
        columns: pairs `meaning=name`.
        decimal: the decimal sign, `point` or `comma`.
        policy: what answers score that lack something, and slips; None for what the bank says.
        language: BCP 47 tag of what is said to students; None for that of the items, or English.
        delimiter: the sign between cells.
        encoding: of the file.
        items: the package that was answered, for documents of results.
        pseudonyms: the column whose names are replaced.
    """

    columns: Sequence[str]
    decimal: str
    policy: Policy | None
    language: str | None
    delimiter: str | None
    encoding: str | None
    items: Path | None = None
    pseudonyms: str | None = None


def mark_file(
    source: Path,
    out: Path,
    how: HowToRead,
    *,
    workers: int,
    cluster: str | None,
    resume: bool,
    force: bool,
) -> None:
    """Mark a file of responses into another; ends the program with the exit code of `qbank mark`."""
    beside = unfinished(out)
    if beside.exists() and not (resume or force):
        fail(f"{beside} is an unfinished table: --resume goes on with it, --force begins anew")
    try:
        with _rows(source, how) as rows, _workers(workers, cluster) as where:
            table = _table(rows, out, how, where)
            kept = _taken_over(table, beside) if resume else 0
            with _shown(table, rows.handle) as pieces:
                go_on_writing(pieces, out, kept=kept, force=force)
    except (OutputError, ClusterError) as error:
        fail(str(error))
    except (OSError, LookupError, UnicodeError, TableError) as error:
        fail(f"{source}: {error}")
    except KeyboardInterrupt:
        click.echo(f"interrupted; {beside} holds what is marked, and --resume goes on with it", err=True)
        raise SystemExit(2) from None
    _tell(table, out)


def _tell(table: MarkedTable, out: Path) -> None:
    counts = ", ".join(f"{count} {verdict}" for verdict, count in sorted(table.verdicts.items()))
    before = f", {table.taken_over} of them before" if table.taken_over else ""
    click.echo(f"{table.rows} rows marked in {out}{before}" + (f": {counts}" if counts else ""), err=True)
    if table.unusable:
        click.echo(
            f"{table.unusable} of them have a question that cannot be used; see their message", err=True
        )
    raise SystemExit(1 if table.unusable else 0)


def _columns(how: HowToRead) -> Columns:
    pairs = [text.partition("=") for text in how.columns]
    for meaning, equals, name in pairs:
        if not (equals and name):
            fail(f"--column takes a meaning and a name, such as response=Answer, not {meaning!r}")
    try:
        return Columns(
            names={meaning: name for meaning, _, name in pairs},
            decimal="," if how.decimal == "comma" else ".",
            policy=how.policy or ACCEPTING,
            language=how.language or "en",
        )
    except TableError as error:
        fail(f"--column: {error}")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rows:
    """The rows of a source, and what a table of them is called and parted by.

    Attributes:
        rows: the responses.
        names: the columns; None where each row has its own.
        delimiter: the sign between cells.
        handle: the file that is read, if it is one.
    """

    rows: Iterable[Row]
    names: tuple[str, ...] | None
    delimiter: str = ","
    handle: TextIO | None = None


@contextmanager
def _rows(source: Path, how: HowToRead) -> Iterator[_Rows]:
    columns = _columns(how)
    if how.items is not None:
        yield _Rows(rows=_results(source, how.items, how), names=COLUMNS)
        return
    if source.is_dir() or source.suffix == ".xml":
        fail(f"{source}: name the package that was answered with --items")
    with source.open(encoding=how.encoding or _encoding(source), newline="") as handle:
        if source.suffix in _JSON:
            yield _Rows(rows=JsonLines(handle, columns), names=None, handle=handle)
        else:
            sheet = Spreadsheet(handle, columns, delimiter=how.delimiter)
            yield _Rows(rows=sheet, names=sheet.names, delimiter=sheet.delimiter, handle=handle)


def _results(source: Path, items: Path, how: HowToRead) -> Iterator[Row]:
    try:
        return result_rows(source, questions_of(items), how.policy, how.language)
    except PackageError as error:
        fail(f"{items}: {error}")


def _table(rows: _Rows, out: Path, how: HowToRead, where: Workers | None) -> MarkedTable:
    kept: Iterable[Row] = rows.rows
    if how.pseudonyms is not None:
        if rows.names is not None and how.pseudonyms not in rows.names:
            fail(f"--pseudonyms: there is no column {how.pseudonyms!r}")
        kept = with_pseudonyms(kept, how.pseudonyms)
    if out.suffix in _JSON:
        return MarkedTable(kept, JsonLinesText(), workers=where)
    if rows.names is None:
        fail(f"rows of JSON may each have other members, so they stay JSON: end --out in {_JSON[0]}")
    return MarkedTable(kept, SpreadsheetText(rows.names, rows.delimiter), workers=where)


def _encoding(source: Path) -> str:
    """By the mark at its beginning; else UTF-8 when all of it is, and the usual other one when not."""
    import codecs

    decoder = codecs.getincrementaldecoder("utf-8")()
    with source.open("rb") as handle:
        start = handle.read(3)
        for mark, name in _MARKS.items():
            if start.startswith(mark):
                return name
        try:
            decoder.decode(start)
            for piece in iter(partial(handle.read, _PIECE), b""):
                decoder.decode(piece)
            decoder.decode(b"", final=True)
        except UnicodeDecodeError:
            click.echo(f"{source} is not UTF-8 and is read as {_OTHER}; --encoding says otherwise", err=True)
            return _OTHER
    return "utf-8"


def _workers(count: int, cluster: str | None) -> AbstractContextManager[Workers | None]:
    if cluster is not None:
        return cluster_at(cluster)
    if count <= 1:
        return nullcontext()
    # a forked process would share what threads of this one hold
    start = partial(ProcessPoolExecutor, count, mp_context=get_context("spawn"))
    return nullcontext(Workers(start=start, count=count + 2))


def _taken_over(table: MarkedTable, beside: Path) -> int:
    if not beside.exists():
        return 0
    with beside.open(encoding="utf-8", errors="replace", newline="") as marked:
        return table.take_over(marked)


@contextmanager
def _shown(table: MarkedTable, responses: TextIO | None) -> Iterator[Iterator[bytes]]:
    """The pieces of a table, with progress by bytes read, the rate and the time left on a terminal."""
    import sys
    import time

    if responses is None:
        yield iter(table)
        return
    size = os.fstat(responses.fileno()).st_size
    hidden = not sys.stderr.isatty()
    start = time.monotonic()

    def rate(_: object) -> str:
        passed = time.monotonic() - start
        fresh = table.rows - table.taken_over
        return f"{table.rows} rows, {fresh / passed:.0f} a second" if passed > 1 else ""

    with click.progressbar(
        length=size, label="marking", file=sys.stderr, hidden=hidden, item_show_func=rate
    ) as bar:

        def pieces() -> Iterator[bytes]:
            read = 0
            for piece in table:
                yield piece
                now = responses.buffer.tell()
                bar.update(now - read, table)
                read = now

        yield pieces()
