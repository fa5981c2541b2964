"""`qbank schema`: the JSON Schema of a bank file, or of the generic JSON, for editors and other programs."""

from __future__ import annotations

import click

from qbank.bank.schema import schema_text

__all__ = ["command"]


@click.command(name="schema")
@click.argument("name", type=click.Choice(["bank", "items"]), default="bank")
def command(name: str) -> None:
    r"""Print the JSON Schema of a bank file (`bank`) or of exported items (`items`).

    \b
    qbank schema > bank.schema.json
    """
    click.echo(schema_text(name), nl=False)
