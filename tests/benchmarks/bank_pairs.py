"""Typed responses to the shipped banks for the benchmark: to a clone of each template the key, or an option that is a slip.

Which it is alternates from template to template. Integrals in x alone are taken, as the plain route asks for x.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from qbank.bank.loading import load_bank
from qbank.items.cloning import ShortageError, clones
from qbank.items.item import Choice, Item
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain

__all__ = ["bank_pairs"]

LIBRARY = Path(__file__).parents[2] / "qbank" / "bank" / "library"


@cache
def bank_pairs() -> tuple[tuple[str, str, bool], ...]:
    """Integrand, typed response, and whether it is right."""
    found: list[tuple[str, str, bool]] = []
    for path in sorted(LIBRARY.glob("*.yaml")):
        bank = load_bank(path)
        for template in bank.templates:
            if template.task != "antiderivative" or template.variable != Symbol("x"):
                continue
            try:
                item = next(iter(clones(bank, template, 1, 1)))
            except ShortageError:
                continue
            wrong = _slip(item) if len(found) % 2 else None
            if wrong is not None:
                found.append((plain(item.integrand), plain(wrong), False))
            elif isinstance(item.key, Expression):
                found.append((plain(item.integrand), f"{plain(item.key)} + C", True))
    return tuple(found)


def _slip(item: Item) -> Expression | None:
    """The first wrong option of a choice."""
    if not isinstance(item.response, Choice):
        return None
    wrong = (option.answer for option in item.response.options if option.slip is not None)
    first = next(wrong, None)
    return first if isinstance(first, Expression) else None
