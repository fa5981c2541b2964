"""What a test that was exported is made of, as a table on standard error."""

from __future__ import annotations

from fractions import Fraction

import click

from qbank.items.deck import Deck, Paper
from qbank.items.spread import Spread, largest_differences, spread_of
from qbank.writers.characters import one_line

__all__ = ["tell_of_tests"]

_HEAD = ("section", "items", "marks", "difficulty")


def tell_of_tests(deck: Deck) -> None:
    """Say of each test or form its sections, items, marks and difficulty, and how far forms differ."""
    for paper in deck.papers:
        limit = "" if paper.minutes is None else f", {paper.minutes} minutes"
        click.echo(f"{one_line(paper.title)}: {paper.marks} marks{limit}", err=True)
        _tell_rows(paper)
    if len(deck.papers) > 1:
        *parts, whole = largest_differences(deck.papers)
        worst = max(range(len(parts)), key=lambda place: parts[place])
        title = one_line(deck.papers[0].parts[worst].title)
        click.echo(
            f"largest difference between forms in mean difficulty: {_number(parts[worst])} in {title!r}; "
            f"over the whole test {_number(whole)}",
            err=True,
        )


def _tell_rows(paper: Paper) -> None:
    rows = [
        _HEAD,
        *(_row(part.title, part.marks, spread_of(part.sections)) for part in paper.parts),
        _row("whole test", paper.marks, spread_of(paper.sections)),
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(len(_HEAD))]
    for row in rows:
        cells = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        click.echo(f"  {'  '.join(cells)}".rstrip(), err=True)


def _row(title: str, marks: int, spread: Spread) -> tuple[str, str, str, str]:
    items = str(spread.dealt) if spread.held == spread.dealt else f"{spread.dealt} of {spread.held}"
    difficulty = f"mean {_number(spread.mean)}, from {spread.easiest} to {spread.hardest}"
    return one_line(title), items, str(marks), difficulty


def _number(value: Fraction) -> str:
    return f"{float(value):.2f}"
