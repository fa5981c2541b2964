"""The command line: one small module per command, imported only when it is called."""

from __future__ import annotations

from importlib import import_module

import click

from qbank import __version__

__all__ = ["main"]

#: the commands in the order of a first visit: name -> what the list says of it
_COMMANDS = {
    "solve": "Work out an integral line by line, each line proved.",
    "check": "Validate a bank and prove a sample of its clones.",
    "draw": "Show clones of a template as a teacher reads them.",
    "export": "Write a bank's clones as packages and data files.",
    "mark": "Mark responses by differentiation.",
    "analyse": "Say what the marks of a class tell of its items.",
    "new": "Write a small bank to start from.",
    "suggest": "Suggest a template for an integrand.",
    "lint": "Say what banks would be better without.",
    "schema": "Print the JSON Schema of a bank, or of exported items.",
    "verify": "Check a package and prove its keys again.",
    "recover": "Get the bank back from a package.",
}


class _Commands(click.Group):
    """A group that imports a command's module when the command is called, so that `--help` starts at once."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002 - click's signature
        if cmd_name not in _COMMANDS:
            return None
        command: click.Command = import_module(f"qbank.cli.{cmd_name}").command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002 - click's signature
        with formatter.section("Commands"):
            formatter.write_dl(list(_COMMANDS.items()))


@click.command(cls=_Commands)
@click.version_option(__version__, prog_name="qbank")
def main() -> None:
    """Banks of randomised integration items: proved, exported, marked.

    Exit codes of every command: 0 clean, 1 problems found, 2 unusable input.
    """
