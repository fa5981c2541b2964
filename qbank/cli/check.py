"""`qbank check`: is a bank sound?"""

from __future__ import annotations

import sys
from pathlib import Path

import click

from qbank.bank.model import Assessment, Bank
from qbank.cli.arguments import bank_argument, fail, open_bank
from qbank.items.checking import TemplateReport, TooManyDrawsError, check_template
from qbank.items.setting import SettingError, set_test
from qbank.messages import is_spoken, languages

__all__ = ["command"]

_HEAD = ("template", "technique", "clones", "proved", "passed over", "difficulty", "problems")


@click.command(name="check")
@bank_argument
@click.option(
    "--sample", type=click.IntRange(1), default=20, show_default=True, help="Draws proved per template."
)
@click.option("--all", "everything", is_flag=True, help="Prove every draw of every template.")
@click.option("--seed", type=int, default=1, show_default=True, help="Seed of the sample.")
def command(bank: Path | None, sample: int, everything: bool, seed: int) -> None:
    """Validate BANK (the shipped one when left out), prove clones of each template, and set its tests."""
    loaded = open_bank(bank)
    size = None if everything else sample
    hidden = not sys.stderr.isatty()
    with click.progressbar(loaded.templates, label="proving", file=sys.stderr, hidden=hidden) as bar:
        try:
            reports = [check_template(loaded, template, sample=size, seed=seed) for template in bar]
        except TooManyDrawsError as error:
            fail(str(error))
    click.echo(_table([_row(report) for report in reports]))
    for report in reports:
        for problem in report.problems:
            click.echo(f"{report.template}: {problem}")
        for reason, count in report.passed_over:
            click.echo(f"{report.template}: {count} passed over: {reason}")
    settable = [_can_be_set(loaded, test, seed) for test in loaded.tests]
    if not is_spoken(loaded.language):
        spoken = ", ".join(languages())
        click.echo(
            f"language {loaded.language}: items say their own sentences in English; there are {spoken}"
        )
    sound = not any(report.problems for report in reports) and all(settable)
    tried, proved = sum(report.tried for report in reports), sum(report.proved for report in reports)
    passed = sum(map(_passed_over, reports))
    over = f", {passed} passed over" if passed else ""
    click.echo(
        f"{len(reports)} templates, {proved} of {tried} clones proved{over}{'' if sound else ', problems above'}"
    )
    raise SystemExit(0 if sound else 1)


def _can_be_set(bank: Bank, test: Assessment, seed: int) -> bool:
    """Set a test with as few clones as it takes, and say what it has or why it cannot be set."""
    try:
        (paper,) = set_test(bank, test, count=1, seed=seed).papers
    except SettingError as error:
        click.echo(str(error))
        return False
    items = sum(section.count for section in test.sections)
    click.echo(f"test {test.identifier}: {items} items, {paper.marks} marks")
    return True


def _passed_over(report: TemplateReport) -> int:
    return sum(count for _, count in report.passed_over)


def _row(report: TemplateReport) -> tuple[str, ...]:
    return (
        report.template,
        report.technique,
        f"{'' if report.exact else '<='}{report.possible}",
        f"{report.proved}/{report.tried}",
        str(_passed_over(report)),
        f"{report.easiest}-{report.hardest}",
        str(len(report.problems)),
    )


def _table(body: list[tuple[str, ...]]) -> str:
    rows = [_HEAD, *body]
    widths = [max(len(row[column]) for row in rows) for column in range(len(_HEAD))]
    return "\n".join(
        "  ".join(f"{cell:<{w}}" for cell, w in zip(row, widths, strict=True)).rstrip() for row in rows
    )
