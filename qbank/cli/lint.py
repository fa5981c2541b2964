"""`qbank lint`: what banks would be better without."""

from __future__ import annotations

from pathlib import Path

import click

from qbank.authoring.linting import lint
from qbank.cli.arguments import open_bank, shipped_bank

__all__ = ["command"]


@click.command(name="lint")
@click.argument("banks", nargs=-1, type=click.Path(dir_okay=False, path_type=Path))
@click.option(
    "--sample",
    type=click.IntRange(20),
    default=60,
    show_default=True,
    help="Draws looked at of each template.",
)
@click.option("--seed", type=int, default=1, show_default=True, help="Seed of the sample.")
@click.pass_context
def command(context: click.Context, banks: tuple[Path, ...], sample: int, seed: int) -> None:
    """Look at BANKS together (the shipped one when none is named) for what an author would mend.

    Templates that ask the same questions, also across banks; draws that degenerate or belong to another technique;
    clones of unlike difficulty; options that give the key away.
    """
    paths = [shipped_bank(context, context.command.params[0], path) for path in banks] or [None]
    opened = [open_bank(path) for path in paths]
    count = 0
    for remark in lint(opened, sample=sample, seed=seed):
        count += 1
        click.echo(
            f"{remark.bank}: {remark.template}: {remark.code}: {remark.message}\n    hint: {remark.hint}"
        )
    templates = sum(len(bank.templates) for bank in opened)
    click.echo(f"{templates} templates, {'nothing' if not count else f'{count} remarks'} to look at")
    raise SystemExit(1 if count else 0)
