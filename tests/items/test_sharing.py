"""Sharing out: the law of the difference between forms, over any difficulties; and who gets which clones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.bank.drawing import Stream
from qbank.items.allotting import allot
from qbank.items.deck import Paper, Part, Section
from qbank.items.item import Item
from qbank.items.sharing import parallel_forms, share_out
from tests.writers.sample_items import cosine_power, free_cosine

PLAIN, FREE = cosine_power(2), free_cosine(2)


def clone(number: int, difficulty: int, *, free: bool = False) -> Item:
    return replace(FREE if free else PLAIN, identifier=f"clone-{number}", difficulty=difficulty)


def paper(*pools: tuple[int, Sequence[Item]], rising: bool = False) -> Paper:
    sections = tuple(
        Section(template=f"t{number}", title="t", items=tuple(items), pick=pick)
        for number, (pick, items) in enumerate(pools)
    )
    part = Part(identifier="1", title="Part", marks=1, rising=rising, shuffle=False, sections=sections)
    return Paper(identifier="test", form="", title="Test", instructions="", minutes=None, parts=(part,))


def difficulties(paper: Paper) -> list[int]:
    return [item.difficulty for section in paper.sections for item in section.items]


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 6), st.data())
def test_forms_differ_by_no_more_than_one_slot(forms: int, data: st.DataObject) -> None:
    rows = data.draw(
        st.lists(st.lists(st.integers(0, 40), min_size=forms, max_size=forms), min_size=1, max_size=12)
    )
    slots = [[clone(100 * place + one, row[one]) for one in range(forms)] for place, row in enumerate(rows)]
    shared = share_out(slots, forms)
    totals = [sum(item.difficulty for item in items) for items in shared]
    assert max(totals) - min(totals) <= max(max(row) - min(row) for row in rows)
    for place, slot in enumerate(slots):
        assert {items[place].identifier for items in shared} == {item.identifier for item in slot}


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(0, 30), min_size=1, max_size=9), st.data())
def test_the_clones_of_slots_are_the_most_alike(values: list[int], data: st.DataObject) -> None:
    """Against every choice of groups of neighbours."""
    forms = data.draw(st.integers(1, min(4, len(values))))
    pick = data.draw(st.integers(1, len(values) // forms))
    made = parallel_forms(paper((pick, [clone(n, d) for n, d in enumerate(values)])), forms)
    slots = list(zip(*map(difficulties, made), strict=True))
    assert len(slots) == pick
    cost = sum(max(slot) - min(slot) for slot in slots)
    ordered = sorted(values)
    starts = [
        chosen
        for chosen in combinations(range(len(values) - forms + 1), pick)
        if all(b - a >= forms for a, b in pairwise(chosen))
    ]
    assert cost == min(sum(ordered[s + forms - 1] - ordered[s] for s in chosen) for chosen in starts)
    used = [item.identifier for one in made for section in one.sections for item in section.items]
    assert len(set(used)) == len(used) == pick * forms


def test_a_slot_has_one_response_form() -> None:
    items = [clone(n, n, free=n % 2 == 1) for n in range(10)]
    made = parallel_forms(paper((3, items)))
    assert len(made) == 2, "three slots of one response form each, of five clones in each form"
    builds = {tuple(item.form for section in one.sections for item in section.items) for one in made}
    assert builds == {("choice", "choice", "free-expression")}


def test_slots_rise_where_the_section_does() -> None:
    hard, easy = [clone(n, 9 + n) for n in range(2)], [clone(10 + n, n) for n in range(2)]
    rising = parallel_forms(paper((1, hard), (1, easy), rising=True))
    assert [difficulties(one) for one in rising] == [[0, 10], [1, 9]]
    drawn = parallel_forms(paper((1, hard), (1, easy)))
    assert [difficulties(one) for one in drawn] == [[9, 1], [10, 0]]
    assert [one.title for one in drawn] == ["Test, form A", "Test, form B"]


def test_too_many_forms() -> None:
    with pytest.raises(ValueError, match="do not give 4 forms"):
        parallel_forms(paper((1, [clone(n, 1) for n in range(3)])), 4)


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 30), st.lists(st.integers(0, 12), min_size=1, max_size=8), st.integers(0, 9))
def test_items_are_allotted_evenly(count: int, rooms: list[int], seed: int) -> None:
    shares = allot(count, rooms, Stream("allot", seed))
    if shares is None:
        assert sum(rooms) < count
        return
    assert sum(shares) == count
    assert all(share <= room for share, room in zip(shares, rooms, strict=True))
    with_room = [share for share, room in zip(shares, rooms, strict=True) if share < room]
    # whoever could give more gives no fewer than anyone else but for one
    assert all(share >= max(shares) - 1 for share in with_room)


def test_few_items_are_spread_over_all_templates() -> None:
    for seed in range(20):
        shares = allot(4, [9] * 12, Stream("spread", seed))
        assert shares is not None
        assert [sum(shares[start : start + 3]) for start in range(0, 12, 3)] == [1, 1, 1, 1]
