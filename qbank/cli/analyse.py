"""`qbank analyse`: what the marks of a class say of its items."""

from __future__ import annotations

from pathlib import Path

import click

from qbank.cli.arguments import fail
from qbank.marking.rows import TableError
from qbank.writers import Artifact, OutputError
from qbank.writers.archive import write_file

__all__ = ["command"]

_MISSING = "item analysis needs more packages; install them with: pip install 'qbank[analysis]'"


@click.command(name="analyse")
@click.argument("marks", type=click.Path(dir_okay=False, path_type=Path))
@click.option(
    "--out", type=click.Path(dir_okay=False, path_type=Path), help="The page; MARKS.html if not given."
)
@click.option(
    "--json", "document", type=click.Path(dir_okay=False, path_type=Path), help="The figures as JSON too."
)
@click.option("--student", default="student", show_default=True, help="The column with the students.")
@click.option("--item", help="The column with the items; `item` if there is one, else the question itself.")
@click.option("--title", help="Of the page; the name of the file if not given.")
@click.option("--language", metavar="TAG", default="en", help="Language of the page, such as de.")
@click.option("--force", is_flag=True, help="Overwrite files that are there.")
def command(
    marks: Path,
    out: Path | None,
    document: Path | None,
    student: str,
    item: str | None,
    title: str | None,
    language: str,
    force: bool,
) -> None:
    """Analyse MARKS, a table that `qbank mark` wrote: facility, discrimination, reliability, slips, answers.

    The page and the JSON name no student. Figures of few students are flagged, or not given.
    """
    try:
        from qbank.analysis.figures import figures
        from qbank.analysis.page import as_json, as_page
        from qbank.analysis.sheet import read_answers, sheet_of
    except ImportError:
        fail(_MISSING)
    try:
        with marks.open(encoding="utf-8-sig", newline="") as source:
            lines = marks.suffix in (".jsonl", ".ndjson")
            sheet = sheet_of(read_answers(source, lines=lines, student=student, item=item))
    except (OSError, UnicodeError, TableError) as error:
        fail(f"{marks}: {error}")
    if not sheet.answers:
        fail(f"{marks}: it has no rows")
    found = figures(sheet)
    page = out or marks.with_suffix(".html")
    try:
        text = as_page(found, title or marks.stem, language)
        write_file([Artifact(page.name, text.encode())], page, force=force)
        click.echo(str(page))
        if document is not None:
            write_file([Artifact(document.name, as_json(found).encode())], document, force=force)
            click.echo(str(document))
    except ImportError:
        fail(_MISSING)
    except OutputError as error:
        fail(str(error))
    for warning in found.warnings:
        click.echo(warning, err=True)
