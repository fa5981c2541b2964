"""`qbank solve`: a worked solution of one integral."""

from __future__ import annotations

import json
from typing import Any

import click

from qbank.cli.arguments import MATHEMATICS, fail, read_argument
from qbank.cli.board import board
from qbank.cli.solve_definite import solve_definite
from qbank.cli.solve_table import solve_as_table
from qbank.cli.worked_text import aligned, rows_as_json
from qbank.maths.conventions import DEFAULT
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Expression, Integral, Symbol
from qbank.maths.notation import latex, plain
from qbank.maths.oracle import propose_antiderivative
from qbank.maths.positivity import with_modulus, without_needless_modulus
from qbank.maths.verdict import Proved
from qbank.techniques.planner import solve, solve_all, technique
from qbank.techniques.presenting import Row, rows, with_constant
from qbank.techniques.working import WorkedSolution

__all__ = ["command"]


@click.command(name="solve", context_settings=MATHEMATICS)
@click.argument("integrand")
@click.option("--variable", default="x", show_default=True, help="Variable of integration.")
@click.option("--from", "lower", default=None, help="Lower limit of a definite integral; may be -infinity.")
@click.option("--to", "upper", default=None, help="Upper limit, likewise.")
@click.option(
    "--all", "every", is_flag=True, help="Every technique (or way) that fits, the one taught first in front."
)
@click.option(
    "--layout",
    type=click.Choice(["lines", "table"]),
    default="lines",
    show_default=True,
    help="Repeated integration by parts line by line, or as a table of derivatives and integrals.",
)
@click.option("--as", "form", type=click.Choice(["text", "latex", "json"]), default="text", show_default=True)
def command(
    integrand: str,
    variable: str,
    lower: str | None,
    upper: str | None,
    every: bool,
    layout: str,
    form: str,
) -> None:
    """Work out the integral of INTEGRAND line by line.

    Example: qbank solve "sin(3x)^4"

    Example: qbank solve "x/(x^2 + 1)" --from 0 --to 2
    """
    letter = Symbol(variable)
    tree = read_argument(integrand, "integrand", letter)
    if lower is not None or upper is not None:
        if layout == "table":
            fail("a table shows an integral without limits")
        if lower is None or upper is None:
            fail("a definite integral has both limits: give --from and --to")
        ends = (read_argument(lower, "lower limit", letter), read_argument(upper, "upper limit", letter))
        if letter in ends[0].symbols() | ends[1].symbols():
            fail(f"the limits are numbers, without {variable}")
        solve_definite(Integral(tree, letter, *ends), every=every, form=form)
        return
    if layout == "table":
        solve_as_table(tree, letter, form)
        return
    first = None if every else solve(tree, letter)
    solutions = solve_all(tree, letter) if every else (first,) if first is not None else ()
    if not solutions:
        _without_working(tree, letter, form)
        return
    if form == "json":
        values = [_as_json(solution, rows(solution, DEFAULT.constant)) for solution in solutions]
        click.echo(json.dumps(values if every else values[0], ensure_ascii=False, indent=2))
        return
    for place, solution in enumerate(solutions):
        if place:
            click.echo()
        _show(solution, form)


def _show(solution: WorkedSolution, form: str) -> None:
    """One solution as text or LaTeX."""
    found = rows(solution, DEFAULT.constant)
    if form == "latex":
        click.echo(aligned(found))
        return
    click.echo(technique(solution.technique).title)
    for line in board(found, DEFAULT):
        click.echo(line)


def _without_working(tree: Expression, variable: Symbol, form: str) -> None:
    """No technique fits: an antiderivative without lines, if one is proposed and proved."""
    proposed = propose_antiderivative(tree, variable)
    verdict = None if proposed is None else decide_antiderivative(proposed, tree, variable)
    if proposed is not None and isinstance(verdict, Proved) and verdict.undefined_at:
        barred = without_needless_modulus(with_modulus(proposed))
        second = decide_antiderivative(barred, tree, variable)
        if isinstance(second, Proved) and len(second.undefined_at) < len(verdict.undefined_at):
            proposed, verdict = barred, second
    if proposed is None or not isinstance(verdict, Proved):
        click.echo("No technique fits, and no antiderivative could be proved.", err=True)
        raise SystemExit(1)
    answer = with_constant(proposed, DEFAULT.constant)
    integral = Integral(tree, variable)
    if form == "json":
        value: dict[str, Any] = {
            "technique": None,
            "integral": plain(integral),
            "antiderivative": plain(answer),
            "rows": [],
            "undefined_at": [str(place) for place in verdict.undefined_at],
        }
        click.echo(json.dumps(value, ensure_ascii=False, indent=2))
    elif form == "latex":
        click.echo(f"{latex(integral)} = {latex(answer)}")
    else:
        click.echo("No technique fits. An antiderivative, proved by differentiation, without working:")
        click.echo(f"    {plain(integral)}\n  = {plain(answer)}")
    if verdict.undefined_at and form != "json":
        place = f"{variable.name} = {verdict.undefined_at[0]}"
        click.echo(
            f"It has no real value on a part of the domain of the integrand, for example at {place}.",
            err=True,
        )


def _as_json(solution: WorkedSolution, found: tuple[Row, ...]) -> dict[str, Any]:
    return {
        "technique": solution.technique,
        "integral": plain(Integral(solution.integrand, solution.variable)),
        "antiderivative": plain(with_constant(solution.antiderivative, DEFAULT.constant)),
        "rows": rows_as_json(found),
    }
