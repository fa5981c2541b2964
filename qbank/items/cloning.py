"""Clones: different proved items from one template, as many as are asked for.

Two clones are different when their questions differ as mathematics: the values of the integrand (and of the answer,
for a definite integral) at the sample points tell them apart. Response forms are taken in turn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from typing import TypeAlias

from qbank.bank.drawing import Draw, box_size, draws
from qbank.bank.model import Bank, Template
from qbank.items.building import DrawRefused, build_item
from qbank.items.item import Item

__all__ = ["PassedOver", "ShortageError", "clones", "unheard"]

#: told of each draw that made no item, with the reason
PassedOver: TypeAlias = Callable[[Draw, str], object]


def unheard(draw: Draw, reason: str) -> None:
    """The listener that does not listen."""


class ShortageError(Exception):
    """A template has fewer good clones than were asked for; nothing is repeated to fill the gap."""

    def __init__(self, template: Template, wanted: int, found: int, refusals: Counter[str]) -> None:
        self.template, self.wanted, self.found, self.refusals = template, wanted, found, refusals
        reasons = "; ".join(f"{count} draws: {reason}" for reason, count in refusals.most_common(3))
        super().__init__(
            f"template {template.identifier!r} gives {found} different clones, {wanted} were asked for"
            f" (its parameters have {box_size(template)} combinations{'; refused ' + reasons if reasons else ''})"
        )


def clones(
    bank: Bank, template: Template, count: int, seed: int, *, passed_over: PassedOver = unheard
) -> Iterator[Item]:
    """The first `count` clones of a template in the order of a seed.

    Args:
        bank: the template's bank.
        template: what to draw from.
        count: how many are wanted.
        seed: any integer; the same seed gives the same clones on every machine.
        passed_over: told of each draw in whose place another was taken, and why.

    Raises:
        ShortageError: the template has fewer; raised after those it has were given.
    """
    seen: set[tuple[str, ...]] = set()
    refusals: Counter[str] = Counter()
    for draw in draws(bank, template, seed):
        if len(seen) == count:
            return
        form = template.responses[len(seen) % len(template.responses)]
        try:
            item = build_item(bank, template, draw, form)
        except DrawRefused as refusal:
            refusals[str(refusal)] += 1
            passed_over(draw, str(refusal))
            continue
        if (mark := _fingerprint(item)) not in seen:
            seen.add(mark)
            yield item
    if len(seen) < count:
        raise ShortageError(template, count, len(seen), refusals)


def _fingerprint(item: Item) -> tuple[str, ...]:
    """What two items share exactly when they ask the same: values at the sample points, digit for digit."""
    limits = () if item.limits is None else (repr(item.limits),)
    return (*(f"{check.at}:{check.value}" for check in item.checks), *limits)
