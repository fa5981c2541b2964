"""`qbank mark`: one response, or a table of them."""

from __future__ import annotations

import json
from pathlib import Path

import click

from qbank.bank.policy import ACCEPTING, PARTS, Policy, policy_from
from qbank.cli.arguments import MATHEMATICS, fail, refuse_mathematics
from qbank.marking import Entry, Mark
from qbank.marking.entry import QuestionError, marker_of

__all__ = ["command"]


@click.command(name="mark", context_settings=MATHEMATICS)
@click.argument("response")
@click.option("--integrand", help="The integrand; RESPONSE is then one typed response.")
@click.option("--variable", default="", help="Variable of integration; x if none is named.")
@click.option("--domain", help='Interval of the question, "0,pi/2".')
@click.option(
    "--answer-kind", type=click.Choice(["antiderivative", "definite", "evaluation"]), default="antiderivative"
)
@click.option("--lower", help="Lower limit of a definite integral; in an evaluation the place of --given.")
@click.option("--upper", help="Upper limit; in an evaluation the place whose value is asked for.")
@click.option("--given", help="In an evaluation, the value of the antiderivative at --lower.")
@click.option(
    "--figures", type=click.IntRange(1, 15), default=3, help="Significant figures wanted of a decimal value."
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
@click.option("--out", type=click.Path(dir_okay=False, path_type=Path), help="Where a marked file goes.")
@click.option(
    "--column",
    "columns",
    multiple=True,
    metavar="MEANING=NAME",
    help="What a column of the file is called, such as response=Answer.",
)
@click.option("--delimiter", help="The sign between cells; found in the first line if not given.")
@click.option("--encoding", help="Of the file; found if not given.")
@click.option(
    "--decimal", type=click.Choice(["point", "comma"]), default="point", help="The decimal sign in responses."
)
@click.option(
    "--require",
    type=click.Choice(PARTS),
    multiple=True,
    help="What costs the mark when it is missing; else a remark says so.",
)
@click.option(
    "--credit",
    multiple=True,
    metavar="WHAT=SHARE",
    help="The share of the marks for an answer that lacks something, constant=1/2, or is a slip, its name=1/3.",
)
@click.option(
    "--items",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The package that was answered; RESPONSE is then a QTI results document, or a folder of them.",
)
@click.option(
    "--language",
    metavar="TAG",
    help="Language of what is said to students, such as de; by default that of --items, or English.",
)
@click.option("--pseudonyms", metavar="COLUMN", help="Replace the names in this column by S1, S2, ...")
@click.option("--workers", type=click.IntRange(1, 64), default=1, help="Processes that mark a file.")
@click.option("--cluster", metavar="ADDRESS", help="A Dask scheduler whose workers mark the file.")
@click.option("--resume", is_flag=True, help="Go on with a file that was left unfinished.")
@click.option("--force", is_flag=True, help="Overwrite the marked file if it is there.")
def command(  # noqa: PLR0913, PLR0917 - one parameter per option
    response: str,
    integrand: str | None,
    variable: str,
    domain: str | None,
    answer_kind: str,
    lower: str | None,
    upper: str | None,
    given: str | None,
    figures: int,
    as_json: bool,
    out: Path | None,
    columns: tuple[str, ...],
    delimiter: str | None,
    encoding: str | None,
    decimal: str,
    require: tuple[str, ...],
    credit: tuple[str, ...],
    items: Path | None,
    language: str | None,
    pseudonyms: str | None,
    workers: int,
    cluster: str | None,
    resume: bool,
    force: bool,
) -> None:
    r"""Mark RESPONSE against --integrand, or every row of the CSV or JSON Lines file RESPONSE.

    With --items, RESPONSE is a QTI results document (assessmentResult), or a folder with one for each student.

    \b
    qbank mark --integrand "cos(x)^3" "sin x - sin^3 x/3 + C" --json
    qbank mark responses.csv --out marks.csv
    qbank mark results/ --items lesson-qti3.zip --out marks.csv
    """
    policy = _policy(require, credit)
    if integrand is None:
        if out is None:
            fail("name the file for the marks with --out (or give --integrand to mark one response)")
        from qbank.cli.responses import HowToRead, mark_file

        how = HowToRead(
            columns=columns,
            decimal=decimal,
            policy=policy,
            language=language,
            delimiter=delimiter,
            encoding=encoding,
            items=items,
            pseudonyms=pseudonyms,
        )
        mark_file(
            Path(response),
            out,
            how,
            workers=workers,
            cluster=cluster,
            resume=resume,
            force=force,
        )
        return
    limits = lower or "", upper or ""
    if answer_kind == "antiderivative":
        if any(limits):
            fail("limits belong to --answer-kind definite or evaluation")
    elif not all(limits):
        fail("a value needs --lower and --upper")
    question = Entry(
        integrand=integrand,
        response="",
        variable=variable,
        lower=limits[0],
        upper=limits[1],
        given=(given or "0") if answer_kind == "evaluation" else "",
        domain=domain or "",
        figures=str(figures),
        decimal="," if decimal == "comma" else ".",
        policy=ACCEPTING if policy is None else policy,
        language="",
    )
    try:
        mark = marker_of(question).mark(response).in_language(language or "en")
    except QuestionError as error:
        if error.reading is not None:
            refuse_mathematics(str(error), error.reading)
        fail(f"the question cannot be used: {error}")
    click.echo(json.dumps(mark.as_json(), ensure_ascii=False) if as_json else _sentence(mark))


def _policy(require: tuple[str, ...], credit: tuple[str, ...]) -> Policy | None:
    """What was said of marks; None when nothing was, and the bank decides."""
    shares: dict[str, str] = dict.fromkeys(require, "require")
    slips: dict[str, str] = {}
    for text in credit:
        what, equals, share = text.partition("=")
        if not (what and equals):
            fail(f"--credit takes what and a share, such as constant=1/2, not {text!r}")
        (shares if what in PARTS else slips)[what] = share
    try:
        return policy_from({**shares, "slips": slips}) if shares or slips else None
    except ValueError as error:
        fail(f"--credit: {error}")


def _sentence(mark: Mark) -> str:
    lines = [f"{mark.outcome}: {mark.message}"]
    lines += [f"  remark {remark.identifier}: {remark.sentence}" for remark in mark.remarks]
    if mark.slip:
        lines.append(f"  slip {mark.slip}")
    if mark.witness:
        lines.append(f"  at {mark.witness.point}: {mark.witness.left}, wanted {mark.witness.right}")
    elif mark.proof:
        lines.append(f"  {mark.proof}")
    return "\n".join(lines)
