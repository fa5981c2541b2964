"""Repeated integration by parts as a table: `qbank solve --layout table`."""

from __future__ import annotations

import json

import click

from qbank.cli.board import board
from qbank.cli.worked_text import aligned, rows_as_json
from qbank.maths.conventions import DEFAULT
from qbank.maths.expression import Expression, Integer, Integral, Symbol
from qbank.maths.notation import latex, plain
from qbank.techniques.parts.tabular_parts import PartsTable, TableRow, parts_table
from qbank.techniques.presenting import rows, with_constant

__all__ = ["solve_as_table"]

_HEADS = ("sign", "differentiated", "integrated")


def solve_as_table(integrand: Expression, variable: Symbol, form: str) -> None:
    """Show an integral by parts as a table, with the lines around it.

    Args:
        integrand: what to integrate.
        variable: with respect to what.
        form: text, latex or json.

    Raises:
        SystemExit: with code 1, where no table fits.
    """
    table = parts_table(integrand, variable)
    if table is None:
        click.echo(
            "A table is for a polynomial beside a function that is integrated again and again.", err=True
        )
        raise SystemExit(1)
    found = rows(table.solution, DEFAULT.constant)
    place = 1 + table.before
    if form == "json":
        value = {
            "technique": table.solution.technique,
            "integral": plain(Integral(integrand, variable)),
            "antiderivative": plain(with_constant(table.solution.antiderivative, DEFAULT.constant)),
            "table": [_as_json(row) for row in table.rows],
            "rows": rows_as_json(found),
        }
        click.echo(json.dumps(value, ensure_ascii=False, indent=2))
    elif form == "latex":
        for part in (aligned(found[:place]), _array(table), aligned(found[place:])):
            click.echo(part)
    else:
        click.echo("Integration by parts, set out as a table")
        for line in (*board(found[:place], DEFAULT), *_columns(table), *board(found[place:], DEFAULT)):
            click.echo(line)


def _columns(table: PartsTable) -> list[str]:
    """The table as text, entries of a column below each other."""
    lines = [_HEADS, *((_sign(row), plain(row.derivative), plain(row.integral)) for row in table.rows)]
    widths = [max(len(line[column]) for line in lines) for column in range(2)]
    return [f"      {sign:^{widths[0]}}   {down:<{widths[1]}}   {across}" for sign, down, across in lines]


def _sign(row: TableRow) -> str:
    """The sign of a row; the last one has no product."""
    return "" if row.derivative == Integer(0) else "-" if row.minus else "+"


def _array(table: PartsTable) -> str:
    entries = [" & ".join((_sign(row), latex(row.derivative), latex(row.integral))) for row in table.rows]
    heads = " & ".join(rf"\text{{{head}}}" for head in _HEADS)
    body = " \\\\\n  ".join((heads, rf"\hline {entries[0]}", *entries[1:]))
    return f"\\begin{{array}}{{c|l|l}}\n  {body}\n\\end{{array}}"


def _as_json(row: TableRow) -> dict[str, str]:
    return {"sign": _sign(row), "differentiated": plain(row.derivative), "integrated": plain(row.integral)}
