"""Draws that were passed over while clones were made: gathered, and told at the end on standard error."""

from __future__ import annotations

from collections import Counter

import click

from qbank.bank.drawing import Draw

__all__ = ["Passed"]


class Passed:
    """Gathers draws that made no item; a draw met again for a second format counts once."""

    def __init__(self) -> None:
        self._reasons: dict[tuple[str, int], str] = {}

    def __call__(self, draw: Draw, reason: str) -> None:
        """Take note of a draw."""
        self._reasons[draw.template, draw.point] = reason

    def tell(self) -> None:
        """Say which templates had draws passed over, how many and why."""
        counts = Counter((template, reason) for (template, _), reason in self._reasons.items())
        for (template, reason), count in counts.items():
            draws = "draw" if count == 1 else "draws"
            click.echo(f"template {template}: {count} {draws} passed over, others taken: {reason}", err=True)
