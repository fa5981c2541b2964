"""`qbank suggest`: a template for an integrand."""

from __future__ import annotations

import re

import click

from qbank.authoring.suggesting import NoSuggestionError, Suggestion, suggest
from qbank.cli.arguments import MATHEMATICS, fail, read_argument
from qbank.maths.expression import Integral, Symbol
from qbank.maths.notation import plain

__all__ = ["command"]


@click.command(name="suggest", context_settings=MATHEMATICS)
@click.argument("integrand")
@click.option("--variable", default="x", show_default=True, help="Variable of integration.")
def command(integrand: str, variable: str) -> None:
    r"""Suggest a template for INTEGRAND: the technique, ranges, conditions that keep bad draws out, and some clones.

    Letters are what varies; in an integrand without letters its whole numbers vary.

    \b
    qbank suggest "p sin(a x)^2"
    qbank suggest "1/(x^2 + 4x + 13)" > my-bank.yaml
    """
    if not re.fullmatch(r"[A-Za-z]|theta|phi|alpha|beta", variable):
        fail(f"--variable: {variable!r} is not one letter")
    letter = Symbol(variable)
    try:
        found = suggest(read_argument(integrand, "integrand", letter), letter)
    except NoSuggestionError as error:
        fail(str(error))
    click.echo("".join(f"# {line}\n" for line in _said(found)) + found.bank, nl=False)


def _said(found: Suggestion) -> list[str]:
    clones = f"{'' if found.exact else 'at most '}{found.possible} different clones"
    lines = [
        f"{found.technique}: {clones}; {found.good} of {found.tried} draws that were tried make an item."
    ]
    lines += [f"refused {count}: {reason}" for reason, count in found.refused]
    for item in found.samples:
        integral = plain(Integral(item.integrand, item.variable))
        lines.append(
            f"{integral} = {plain(item.key)} + {item.conventions.constant}    (difficulty {item.difficulty})"
        )
    return lines
