"""`qbank export`: clones of a bank as packages and data files."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from qbank.cli.arguments import bank_argument, fail, find_template, open_bank
from qbank.items.cloning import ShortageError
from qbank.items.decking import deal
from qbank.writers import WRITERS, OutputError, save

__all__ = ["command"]


@click.command(name="export")
@bank_argument
@click.option(
    "--to",
    "names",
    type=click.Choice(list(WRITERS)),
    multiple=True,
    default=list(WRITERS),
    show_default=True,
    help="Format; give it several times for several files.",
)
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("exports"),
    show_default=True,
    help="Folder to write to.",
)
@click.option(
    "--count", type=click.IntRange(1), default=10, show_default=True, help="Clones of each template."
)
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed gives the same bytes.")
@click.option(
    "--template", "wanted", multiple=True, help="Only this template; give it several times for several."
)
@click.option(
    "--pick", type=click.IntRange(1), default=1, show_default=True, help="Clones dealt to each student."
)
@click.option("--force", is_flag=True, help="Overwrite files that qbank did not write.")
def command(
    bank: Path | None,
    names: tuple[str, ...],
    out: Path,
    count: int,
    seed: int,
    wanted: tuple[str, ...],
    pick: int,
    force: bool,
) -> None:
    """Write clones of BANK (the shipped one when left out), every key proved and every distractor refuted."""
    if pick > count:
        fail(f"--pick {pick} deals more clones than --count {count} makes")
    loaded = open_bank(bank)
    templates = tuple(find_template(loaded, name) for name in wanted) or loaded.templates
    formats = list(dict.fromkeys(names))
    total = count * len(templates) * len(formats)
    hidden = not sys.stderr.isatty()
    with click.progressbar(length=total, label="building items", file=sys.stderr, hidden=hidden) as bar:
        deck = deal(
            loaded, count=count, seed=seed, templates=templates, pick=pick, watch=lambda: bar.update(1)
        )
        try:
            written = [
                save(WRITERS[name], deck, out / WRITERS[name].file_name(deck), force=force)
                for name in formats
            ]
        except (OutputError, ShortageError) as error:
            fail(str(error))
    for path in written:
        click.echo(path)
