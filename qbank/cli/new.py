"""`qbank new`: a bank to start from."""

from __future__ import annotations

import re
from pathlib import Path

import click

from qbank.authoring.starting import starter
from qbank.cli.arguments import fail
from qbank.writers import Artifact, OutputError
from qbank.writers.archive import write_file

__all__ = ["command"]


@click.command(name="new")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--title", help="Of the bank; made of the file's name if not given.")
@click.option("--language", default="en-GB", show_default=True, help="BCP 47 tag of its texts.")
def command(file: Path, title: str | None, language: str) -> None:
    """Write FILE, a small bank to start from, with a comment at everything to be changed."""
    if file.suffix not in (".yaml", ".yml"):
        fail(f"{file}: a bank to start from is YAML; end its name in .yaml")
    if not re.fullmatch(r"[A-Za-z]{2,8}(-[A-Za-z0-9]{1,8})*", language):
        fail(f"--language: {language!r} is not a language tag such as en-GB")
    identifier = re.sub(r"[^a-z0-9]+", "-", file.stem.lower()).strip("-")
    if not identifier[:1].isalpha():
        identifier = f"bank-{identifier}".rstrip("-")
    text = starter(identifier, title or file.stem.replace("-", " ").capitalize(), language)
    try:
        write_file([Artifact(file.name, text.encode())], file)
    except OutputError as error:
        fail(str(error))
    click.echo(str(file))
    click.echo(f"next: qbank check {file}", err=True)
