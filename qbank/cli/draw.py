"""`qbank draw`: clones of one template, to be read."""

from __future__ import annotations

import json
from pathlib import Path

import click

from qbank.cli.arguments import bank_argument, fail, find_template, open_bank
from qbank.cli.board import item_text
from qbank.cli.passing import Passed
from qbank.items.cloning import ShortageError, clones
from qbank.writers.plain_json import item_value

__all__ = ["command"]


@click.command(name="draw")
@bank_argument
@click.option("--template", "identifier", required=True, help="Which template to draw from.")
@click.option("--count", type=click.IntRange(1), default=1, show_default=True, help="How many clones.")
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed gives the same clones.")
@click.option("--as", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
def command(bank: Path | None, identifier: str, count: int, seed: int, form: str) -> None:
    """Show clones of one template: question, answers, slips and working."""
    loaded = open_bank(bank)
    template = find_template(loaded, identifier)
    passed = Passed()
    try:
        found = clones(loaded, template, count, seed, passed_over=passed)
        for number, item in enumerate(found, start=1):
            if form == "json":
                click.echo(json.dumps(item_value(item), ensure_ascii=False))
                continue
            values = ", ".join(f"{name} = {value}" for name, value in item.parameters)
            click.echo(f"{'' if number == 1 else chr(10)}{template.title}  ({number} of {count}; {values})")
            for line in item_text(item):
                click.echo(line)
    except ShortageError as error:
        fail(str(error))
    passed.tell()
