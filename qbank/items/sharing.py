"""Pools shared out to parallel forms, so that no clone is in two of them and none is harder than another by much.

    pools --slots--> for each place in the test, a clone for each form --share_out--> forms

The clones of a slot are those of its pool that are most alike in difficulty. Slot by slot, the easiest clone goes to the form that has been hardest so far. Two forms then never differ by more than
the clones of one slot do: what separated them before is made smaller by the new clones, or turned round into at most
their own difference.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import count, islice
from math import inf

from qbank.items.deck import Paper, Part, Section
from qbank.items.item import Item
from qbank.messages import say

__all__ = ["mean_difficulty", "parallel_forms", "share_out"]


def mean_difficulty(items: Sequence[Item]) -> Fraction:
    """The mean difficulty of some items, at least one."""
    return Fraction(sum(item.difficulty for item in items), len(items))


def share_out(slots: Sequence[Sequence[Item]], forms: int) -> tuple[tuple[Item, ...], ...]:
    """The items of each form, in the order of the slots.

    Args:
        slots: for each, as many clones as there are forms.
        forms: how many there are.
    """
    papers: list[list[Item]] = [[] for _ in range(forms)]
    totals = [0] * forms
    for slot in slots:
        hardest_first = sorted(range(forms), key=lambda form: (-totals[form], form))
        easiest_first = sorted(slot, key=lambda item: item.difficulty)
        for form, item in zip(hardest_first, easiest_first, strict=True):
            papers[form].append(item)
            totals[form] += item.difficulty
    return tuple(map(tuple, papers))


def parallel_forms(paper: Paper, forms: int | None = None) -> tuple[Paper, ...]:
    """The forms of a test whose sections are pools, of equal build: each slot has one template and one response form.

    Args:
        paper: the test.
        forms: how many are wanted; as many as its pools give when None.

    Raises:
        ValueError: the pools do not give so many.
    """
    number = next(n for n in count(2) if not _enough(paper, n)) - 1 if forms is None else forms
    if not _enough(paper, number):
        raise ValueError(f"the pools do not give {number} forms")
    slots = [_slots(part, number) for part in paper.parts]
    shared = share_out([clones for part in slots for _, clones in part], number)
    return tuple(_form(paper, _letters(place), slots, items) for place, items in enumerate(shared))


def _enough(paper: Paper, forms: int) -> bool:
    return all(
        sum(len(kind) // forms for kind in _kinds(section)) >= _dealt(section) for section in paper.sections
    )


def _dealt(section: Section) -> int:
    return len(tuple(section.items)) if section.pick is None else section.pick


def _kinds(section: Section) -> list[list[Item]]:
    """The clones of each response form, by difficulty; the forms in the order in which they come."""
    kinds: dict[str, list[Item]] = {}
    for item in section.items:
        kinds.setdefault(item.form, []).append(item)
    return [sorted(items, key=lambda item: item.difficulty) for items in kinds.values()]


def _slots(part: Part, forms: int) -> list[tuple[Section, list[Item]]]:
    """The slots of a section of the test, each with its pool; all clones of a slot have one response form."""
    slots: list[tuple[Section, list[Item]]] = []
    for section in part.sections:
        kinds = _kinds(section)
        shares = _in_turn(_dealt(section), [len(kind) // forms for kind in kinds])
        for kind, share in zip(kinds, shares, strict=True):
            slots += [(section, clones) for clones in _most_alike(kind, forms, share)]
    return sorted(slots, key=lambda slot: mean_difficulty(slot[1])) if part.rising else slots


def _in_turn(count: int, rooms: Sequence[int]) -> list[int]:
    """How many each gives when they give in turn while they can; together they can give `count`."""
    given = [0] * len(rooms)
    while sum(given) < count:
        for place, room in enumerate(rooms):
            if given[place] < room and sum(given) < count:
                given[place] += 1
    return given


def _most_alike(items: Sequence[Item], size: int, wanted: int) -> list[list[Item]]:
    """So many groups of neighbours, with the least sum of differences between the hardest and the easiest of a group.

    Args:
        items: by difficulty, at least as many as the groups need.
        size: of a group.
        wanted: how many groups.
    """
    # costs[end]: the least sum with the items before `end`; ends[groups][end]: where the last group ends then
    costs: list[float] = [0] * (len(items) + 1)
    ends: list[list[int]] = []
    for group in range(1, wanted + 1):
        before, costs, best = costs, [inf] * (len(items) + 1), [0] * (len(items) + 1)
        for end in range(group * size, len(items) + 1):
            cost = before[end - size] + items[end - 1].difficulty - items[end - size].difficulty
            costs[end], best[end] = (cost, end) if cost < costs[end - 1] else (costs[end - 1], best[end - 1])
        ends.append(best)
    groups: list[list[Item]] = []
    end = len(items)
    for best in reversed(ends):
        end = best[end] - size
        groups.append(list(items[end : end + size]))
    return groups[::-1]


def _form(
    paper: Paper, letters: str, slots: Sequence[Sequence[tuple[Section, list[Item]]]], items: tuple[Item, ...]
) -> Paper:
    mark = letters.lower()
    rest = iter(items)
    parts = []
    for part, its_slots in zip(paper.parts, slots, strict=True):
        chosen = islice(rest, len(its_slots))
        sections = tuple(
            replace(section, items=(item,), pick=None, name=f"{part.identifier}_{number}_{mark}")
            for number, ((section, _), item) in enumerate(zip(its_slots, chosen, strict=False), 1)
        )
        parts.append(replace(part, identifier=f"{part.identifier}-form-{mark}", sections=sections))
    return replace(
        paper,
        identifier=f"{paper.identifier}-form-{mark}",
        form=letters,
        title=say("{title}, form {letter}", title=paper.title, letter=letters),
        parts=tuple(parts),
    )


def _letters(place: int) -> str:
    """A to Z, then AA, AB, ...

    >>> _letters(0), _letters(25), _letters(26)
    ('A', 'Z', 'AA')
    """
    rest, last = divmod(place, 26)
    return (_letters(rest - 1) if rest else "") + chr(ord("A") + last)
