"""How hard the sections of a test are, and how far its forms differ."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from qbank.items.deck import Paper, Section
from qbank.items.sharing import mean_difficulty

__all__ = ["Spread", "largest_differences", "spread_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """The difficulty of what students are dealt.

    Attributes:
        dealt: items that each student is dealt.
        held: items to deal from.
        mean: difficulty of a dealt item; of pools, on average over all that may be dealt.
        easiest: the smallest difficulty.
        hardest: the largest.
    """

    dealt: int
    held: int
    mean: Fraction
    easiest: int
    hardest: int


def spread_of(sections: Iterable[Section]) -> Spread:
    """The spread of some sections, whose items lie in tuples; at least one."""
    pools = [(section.pick, tuple(section.items)) for section in sections]
    weighed = [(len(items) if pick is None else pick, items) for pick, items in pools]
    dealt = sum(count for count, _ in weighed)
    difficulties = [item.difficulty for _, items in weighed for item in items]
    return Spread(
        dealt=dealt,
        held=len(difficulties),
        mean=sum((count * mean_difficulty(items) for count, items in weighed), Fraction(0)) / dealt,
        easiest=min(difficulties),
        hardest=max(difficulties),
    )


def largest_differences(papers: Sequence[Paper]) -> tuple[Fraction, ...]:
    """How far the means of the forms lie apart at most: for each section of the test, then for the whole test."""
    rows = [[*(part.sections for part in paper.parts), paper.sections] for paper in papers]
    means = [[spread_of(sections).mean for sections in row] for row in rows]
    return tuple(max(column) - min(column) for column in zip(*means, strict=True))
