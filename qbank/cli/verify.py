"""`qbank verify`: a package checked, and its keys proved again from its items."""

from __future__ import annotations

from pathlib import Path

import click

from qbank.cli.arguments import fail
from qbank.packages.opening import PackageError
from qbank.packages.problem import shown
from qbank.packages.schemas import Schemas
from qbank.packages.verifying import Report, verify

__all__ = ["command"]

_HEAD = ("kind of item", "items", "keys proved", "keys agreeing", "wrong answers refuted", "with problems")


@click.command(name="verify")
@click.argument("package", type=click.Path(dir_okay=False, path_type=Path))
@click.option(
    "--schemas",
    "folder",
    type=click.Path(file_okay=False, exists=True, path_type=Path),
    help="Folder with the official XML Schemas (*.xsd), to validate against as well.",
)
def command(package: Path, folder: Path | None) -> None:
    """Check PACKAGE, a zip or JSON file that qbank wrote, and prove its keys again from what it shows.

    A key is proved by differentiation, or by bounds around the value of a definite integral; an option that is the
    value of a definite integral agrees with rigorous quadrature to 30 digits.
    """
    try:
        schemas = None if folder is None else Schemas(folder)
        report = verify(package, schemas=schemas)
    except PackageError as error:
        fail(f"{package}: {shown(str(error))}")
    for line in _lines(report):
        click.echo(line)
    raise SystemExit(0 if report.sound else 1)


def _lines(report: Report) -> list[str]:
    body = [
        (name, *map(str, (row.items, row.proved, row.agreeing, row.refuted, row.faulty)))
        for name, row in report.rows.items()
    ]
    table = [_HEAD, *body]
    widths = [max(len(row[column]) for row in table) for column in range(len(_HEAD))]
    lines = [
        "  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in table
    ]
    lines += [str(problem) for problem in report.problems]
    items = sum(row.items for row in report.rows.values())
    count = len(report.problems)
    verdict = "no problems" if not count else f"{count} problem{'s' if count > 1 else ''}, listed above"
    schemas = f", {report.validated} documents checked against the schemas" if report.validated else ""
    source = "with" if report.source else "without"
    return [*lines, f"{report.format}: {items} items, {source} the bank they come from{schemas}, {verdict}"]
