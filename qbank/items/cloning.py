"""Clones: different proved items from one template, as many as are asked for.

Two clones are different when their questions differ as mathematics: the values of the integrand (and of the answer,
for a definite integral) at the sample points tell them apart. Response forms are taken in turn.

Where several sections or templates must not have a clone in common, they share one `Given`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from typing import Final, TypeAlias

from qbank.bank.drawing import Draw, box_size, draws
from qbank.bank.model import Bank, Template
from qbank.items.building import build_item
from qbank.items.item import Item
from qbank.items.refusal import DrawRefused
from qbank.maths.expression import Expression, Symbol

__all__ = ["EASY_OR_HARD", "Given", "PassedOver", "ShortageError", "clones", "unheard"]

#: told of each draw that made no item, with the reason
PassedOver: TypeAlias = Callable[[Draw, str], object]


#: no bounds on the difficulty
EASY_OR_HARD: Final[tuple[int | None, int | None]] = (None, None)

#: clones outside the difficulty asked for, in a row, after which the search ends
PATIENCE: Final = 100


def unheard(draw: Draw, reason: str) -> None:
    """The listener that does not listen."""


class Given:
    """The clones of several templates that were given already, so that none of them is given again."""

    def __init__(self) -> None:
        self._draws: set[tuple[str, int]] = set()
        self._questions: set[tuple[str, ...] | tuple[Expression, ...]] = set()

    def has(self, draw: Draw) -> bool:
        """Whether the clone of a draw was given, which can be told before it is built."""
        return (draw.template, draw.point) in self._draws

    def add(self, draw: Draw, item: Item) -> bool:
        """Give a clone, unless its question was asked: as values at points, or as it is written but for the letter."""
        written = (
            item.integrand.substitute({item.variable: Symbol("x")}),
            *(() if item.limits is None else item.limits),
            *(() if item.sought is None else (item.sought.value,)),
        )
        marks = {_fingerprint(item), written}
        if new := not marks & self._questions:
            self._draws.add((draw.template, draw.point))
            self._questions |= marks
        return new


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
    bank: Bank,
    template: Template,
    count: int,
    seed: int,
    *,
    passed_over: PassedOver = unheard,
    given: Given | None = None,
    difficulty: tuple[int | None, int | None] = EASY_OR_HARD,
    patience: int = PATIENCE,
) -> Iterator[Item]:
    """The first `count` clones of a template in the order of a seed.

    Args:
        bank: the template's bank.
        template: what to draw from.
        count: how many are wanted.
        seed: any integer; the same seed gives the same clones on every machine.
        passed_over: told of each draw in whose place another was taken, and why.
        given: clones that are not to be given again; these here are added to them.
        difficulty: the least and the greatest that a clone may have.
        patience: clones outside that difficulty, in a row, after which the search ends.

    Raises:
        ShortageError: the template has fewer; raised after those it has were given.
    """
    seen: set[tuple[str, ...]] = set()
    refusals: Counter[str] = Counter()
    in_vain = 0
    for draw in draws(bank, template, seed):
        if len(seen) == count or in_vain == patience:
            break
        if given is not None and given.has(draw):
            continue
        form = template.responses[len(seen) % len(template.responses)]
        try:
            item = build_item(bank, template, draw, form)
        except DrawRefused as refusal:
            refusals[str(refusal)] += 1
            passed_over(draw, str(refusal))
            continue
        if not _within(item.difficulty, difficulty):
            in_vain += 1
            refusals["outside the difficulty asked for"] += 1
        elif (mark := _fingerprint(item)) not in seen and (given is None or given.add(draw, item)):
            in_vain = 0
            seen.add(mark)
            yield item
    if len(seen) < count:
        raise ShortageError(template, count, len(seen), refusals)


def _within(value: int, bounds: tuple[int | None, int | None]) -> bool:
    least, greatest = bounds
    return (least is None or least <= value) and (greatest is None or value <= greatest)


def _fingerprint(item: Item) -> tuple[str, ...]:
    """What two items share exactly when they ask the same: values at the sample points, digit for digit."""
    limits = () if item.limits is None else (repr(item.limits),)
    given = () if item.sought is None else (repr(item.sought.value),)
    return (*(f"{check.at}:{check.value}" for check in item.checks), *limits, *given)
