"""`qbank solve` with limits: a definite integral worked line by line."""

from __future__ import annotations

import json
from typing import Any

import click

from qbank.cli.board import board
from qbank.cli.worked_text import aligned, rows_as_json
from qbank.maths.conventions import DEFAULT
from qbank.maths.expression import Integral
from qbank.maths.notation import latex, plain
from qbank.maths.quadrature import Refused
from qbank.techniques.definites.chain import enclosure_of
from qbank.techniques.definites.choosing import value_all, value_of, way
from qbank.techniques.definites.showing import value_rows
from qbank.techniques.definites.way import WorkedValue

__all__ = ["solve_definite"]


def solve_definite(integral: Integral, *, every: bool, form: str) -> None:
    """Write the worked value by the way taught first, or by every way that fits."""
    first = None if every else value_of(integral)
    found = value_all(integral) if every else (first,) if first is not None else ()
    if not found:
        _without_working(integral, form)
        return
    if form == "json":
        values = [_as_json(worked) for worked in found]
        click.echo(json.dumps(values if every else values[0], ensure_ascii=False, indent=2))
        return
    for place, worked in enumerate(found):
        if place:
            click.echo()
        rows = value_rows(worked)
        if form == "latex":
            click.echo(aligned(rows))
            continue
        click.echo(way(worked.way).title)
        for line in board(rows, DEFAULT):
            click.echo(line)


def _without_working(integral: Integral, form: str) -> None:
    """No way fits: the digits that are certain, or why there is no value."""
    bounds = enclosure_of(integral)
    if isinstance(bounds, Refused):
        click.echo(f"The integral has no value that could be shown: {bounds.reason}.", err=True)
        raise SystemExit(1)
    if form == "json":
        value: dict[str, Any] = {
            "way": None,
            "integral": plain(integral),
            "digits": bounds.digits_text,
            "rows": [],
        }
        click.echo(json.dumps(value, ensure_ascii=False, indent=2))
    elif form == "latex":
        click.echo(rf"{latex(integral)} \approx {bounds.digits_text}")
    else:
        click.echo("No way fits. The digits of its value that are certain, by rigorous quadrature:")
        click.echo(f"    {plain(integral)}\n  = {bounds.digits_text}...")


def _as_json(worked: WorkedValue) -> dict[str, Any]:
    return {
        "way": worked.way,
        "integral": plain(worked.integral),
        "value": plain(worked.value),
        "digits": worked.enclosure.digits_text,
        "rows": rows_as_json(value_rows(worked)),
    }
