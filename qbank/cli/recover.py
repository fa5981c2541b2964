"""`qbank recover`: the bank that a package was made from."""

from __future__ import annotations

import shlex
from pathlib import Path

import click

from qbank.cli.arguments import fail
from qbank.items.source import Source
from qbank.packages.opening import PackageError
from qbank.packages.problem import shown
from qbank.packages.recovering import recover
from qbank.writers import Artifact, OutputError
from qbank.writers.archive import write_file

__all__ = ["command"]


@click.command(name="recover")
@click.argument("package", type=click.Path(dir_okay=False, path_type=Path))
@click.option(
    "--out",
    type=click.Path(dir_okay=False, path_type=Path),
    help="File for the bank; its own name, in this folder, when left out.",
)
@click.option("--force", is_flag=True, help="Overwrite the file if it is there.")
def command(package: Path, out: Path | None, force: bool) -> None:
    """Give back the bank that PACKAGE was made from, byte for byte, and say how its items were drawn."""
    try:
        found = recover(package)
    except PackageError as error:
        fail(f"{package}: {shown(str(error))}")
    target = out or Path(found.source.name)
    try:
        write_file([Artifact(target.name, found.source.content)], target, force=force)
    except OutputError as error:
        fail(str(error))
    click.echo(target)
    click.echo(f"the items were drawn by qbank {shown(found.version)} with:", err=True)
    click.echo(f"  {shown(_export(target, found.source), longest=None)}", err=True)


def _export(target: Path, source: Source) -> str:
    words = ["qbank", "export", str(target), "--count", str(source.count), "--seed", str(source.seed)]
    if source.pick is not None:
        words += ["--pick", str(source.pick)]
    if source.test is not None:
        words += ["--test", source.test]
    if source.forms is not None:
        words += ["--forms", str(source.forms)]
    for template in source.templates or ():
        words += ["--template", template]
    return shlex.join(words)
