"""Clones of a template, as many as there are of those that are asked for."""

from __future__ import annotations

from dataclasses import dataclass, replace

from qbank.bank.model import Bank, ResponseForm, Template
from qbank.items.cloning import ShortageError, clones
from qbank.items.item import Item

__all__ = ["Sample", "sampled"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """Some clones.

    Attributes:
        items: the clones.
        shortage: why they are fewer than were asked for; None when they are not.
    """

    items: tuple[Item, ...]
    shortage: ShortageError | None


def sampled(bank: Bank, template: Template, forms: tuple[ResponseForm, ...], count: int, seed: int) -> Sample:
    """The first clones of a template in the order of a seed.

    Args:
        bank: the template's bank.
        template: what to draw from.
        forms: response forms, taken in turn in place of its own.
        count: how many at the most.
        seed: of the draw.
    """
    items: list[Item] = []
    shortage = None
    try:
        for item in clones(bank, replace(template, responses=forms), count, seed):
            items.append(item)  # noqa: PERF402 - those before a shortage are kept
    except ShortageError as error:
        shortage = error
    return Sample(items=tuple(items), shortage=shortage)
