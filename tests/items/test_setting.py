"""Tests set from a bank: what pools and forms hold, and the laws that make them fair."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import pytest

from qbank.bank.loading import parse_bank
from qbank.items.cloning import clones
from qbank.items.deck import Deck, Part
from qbank.items.item import Coefficients, Item
from qbank.items.setting import SettingError, set_test
from qbank.items.sharing import mean_difficulty
from qbank.items.spread import largest_differences, spread_of
from qbank.maths.expression import Symbol
from tests.items.sitting import TEXT, bank, deck

FORMS = 4


def items_of(part: Part) -> list[Item]:
    return [item for section in part.sections for item in section.items]


def question(item: Item) -> object:
    """What is asked, whatever its letter: the integrand as it is written, and the limits."""
    return item.integrand.substitute({item.variable: Symbol("x")}), item.limits


def every_deck() -> list[Deck]:
    return [deck(), deck(seed=2), deck(forms=FORMS), deck(forms=FORMS, seed=2), deck("hard", forms=3)]


def test_no_two_clones_of_a_test_ask_the_same() -> None:
    """Over all sections and forms, also where two templates can ask the same in different letters."""
    for one in every_deck():
        items = [item for section in one.sections for item in section.items]
        assert len({question(item) for item in items}) == len(items)
        assert len({item.identifier for item in items}) == len(items)
    # the law is not empty: left to themselves, the two templates of powers do ask the same
    letters = [bank().template(name) for name in ("power", "power-again")]
    alone = [{question(item) for item in clones(bank(), template, 12, 1)} for template in letters]
    assert alone[0] & alone[1]


def test_the_structure_of_pools() -> None:
    (paper,) = deck().papers
    assert [part.title for part in paper.parts] == ["Starter", "Practice", "Quiz"]
    assert [sum(section.pick or 0 for section in part.sections) for part in paper.parts] == [3, 5, 2]
    for part in paper.parts:
        assert all(section.pick is not None for section in part.sections)
        assert all(len(tuple(section.items)) == 3 for section in part.sections)
        for section in part.sections:
            assert {item.template for item in section.items} == {section.template}
    starter, practice, quiz = paper.parts
    assert {section.template for section in starter.sections} == {"power", "power-again"}
    assert {section.template for section in practice.sections} == {one.identifier for one in bank().templates}
    assert {item.form for item in items_of(quiz)} == {"choice", "numeric"}
    assert (starter.shuffle, practice.shuffle, quiz.shuffle) == (True, False, True)
    assert not any(part.shuffle for part in deck("hard").papers[0].parts)
    assert (paper.minutes, paper.instructions) == (25, "Read <i>this</i> first.")


def test_a_section_may_say_the_marks_and_part_marks_follow() -> None:
    (paper,) = deck().papers
    starter, practice, quiz = paper.parts
    assert {item.marks for item in items_of(starter)} == {5}
    assert starter.marks == 15
    own = {template.identifier: template.marks for template in bank().templates}
    for part in (practice, quiz):
        assert all(item.marks == own[item.template] for item in items_of(part))
        assert part.marks == sum((one.pick or 0) * own[one.template] for one in part.sections)
    assert paper.marks == sum(part.marks for part in paper.parts)


def test_part_marks_follow_the_marks_of_the_section() -> None:
    test = next(test for test in bank().tests if test.identifier == "hard")
    section = replace(
        test.sections[0],
        count=1,
        marks=7,
        templates=(bank().template("sine-squared"),),
        responses=("coefficients",),
        difficulty=(None, None),
    )
    one = set_test(bank(), replace(test, sections=(section,)), count=1, seed=1)
    (item,) = items_of(one.papers[0].parts[0])
    assert isinstance(item.response, Coefficients)
    assert item.response.part_marks[-1] == item.marks == 7


@pytest.mark.parametrize("seed", [1, 2])
def test_forms_have_the_same_structure_and_marks(seed: int) -> None:
    papers = deck(forms=FORMS, seed=seed).papers
    assert [paper.form for paper in papers] == ["A", "B", "C", "D"]
    assert len({paper.identifier for paper in papers}) == FORMS
    assert len({paper.marks for paper in papers}) == 1
    builds = {
        tuple(
            (part.title, part.marks, tuple((item.template, item.form, item.marks) for item in items_of(part)))
            for part in paper.parts
        )
        for paper in papers
    }
    assert len(builds) == 1
    (pools,) = deck(seed=seed).papers
    for part, pooled in zip(papers[0].parts, pools.parts, strict=True):
        dealt = Counter({section.template: section.pick or 0 for section in pooled.sections})
        assert Counter(item.template for item in items_of(part)) == dealt
        assert part.marks == pooled.marks == sum(item.marks for item in items_of(part))


@pytest.mark.parametrize("seed", [1, 2])
def test_forms_differ_by_no_more_than_the_clones_of_one_slot(seed: int) -> None:
    papers = deck(forms=FORMS, seed=seed).papers
    rows = [[item.difficulty for part in paper.parts for item in items_of(part)] for paper in papers]
    totals = [sum(row) for row in rows]
    assert max(totals) - min(totals) <= max(max(slot) - min(slot) for slot in zip(*rows, strict=True))
    *parts, whole = largest_differences(papers)
    assert len(parts) == 3
    assert whole * len(rows[0]) == max(totals) - min(totals)


def test_more_clones_make_forms_more_alike() -> None:
    few = largest_differences(deck(forms=FORMS, count=1).papers)
    many = largest_differences(deck(forms=FORMS, count=6).papers)
    assert sum(many) <= sum(few)


def test_rising_sections_rise() -> None:
    for one in (deck(), deck(seed=2), deck("hard")):
        for part in (part for part in one.papers[0].parts if part.rising):
            means = [mean_difficulty(tuple(section.items)) for section in part.sections]
            assert means == sorted(means)
            for section in part.sections:
                assert all(a.difficulty <= b.difficulty for a, b in pairwise(section.items))
    for one in (deck(forms=FORMS), deck(forms=1), deck("hard", forms=3)):
        rising = [[items_of(part) for part in paper.parts if part.rising] for paper in one.papers]
        for parts in zip(*rising, strict=True):
            slots = [mean_difficulty(slot) for slot in zip(*parts, strict=True)]
            assert slots == sorted(slots)


def test_difficulty_is_kept_to() -> None:
    one = deck("hard", forms=3)
    assert all(item.difficulty >= 6 for section in one.sections for item in section.items)


def test_the_spread_of_pools_weighs_what_is_dealt() -> None:
    part = deck().papers[0].parts[1]
    spread = spread_of(part.sections)
    assert (spread.dealt, spread.held) == (5, 3 * len(part.sections))
    sums = [(one.pick or 0) * mean_difficulty(tuple(one.items)) for one in part.sections]
    assert spread.mean == sum(sums) / 5
    assert spread.easiest == min(item.difficulty for item in items_of(part))


def test_the_same_seed_sets_the_same_test_and_another_seed_another() -> None:
    test = next(test for test in bank().tests if test.identifier == "hard")
    for forms in (None, 3):
        again = set_test(bank(), test, count=3, seed=1, forms=forms)
        assert again.papers == deck("hard", forms=forms).papers
        assert again.papers != deck("hard", forms=forms, seed=2).papers


@pytest.mark.parametrize(
    ("identifier", "forms", "why"),
    [
        ("impossible", None, "test impossible, section 'Nothing': none of its templates has the difficulty"),
        ("greedy", None, "test greedy, section 'All': template 'power"),
        ("greedy", 9, "its templates cannot give 100 items for each of 9 forms"),
    ],
)
def test_what_cannot_be_set_says_where_and_why(identifier: str, forms: int | None, why: str) -> None:
    with pytest.raises(SettingError, match=why) as caught:
        deck(identifier, forms=forms)
    assert caught.value.hint
    assert caught.value.section.title in str(caught.value)


def test_forms_do_with_what_they_need() -> None:
    """Pools are as large as was said; forms look at more clones than they need only where there are more."""
    text = TEXT[: TEXT.index("  - identifier: power-again")].replace(
        "integrand: a x^n", 'conditions: ["a > 7", "n < 5"]\n    integrand: a x^n'
    )
    tests = "tests: [{identifier: t, title: T, sections: [{title: S, count: 1, by: {tags: [level-1]}}]}]"
    tiny = parse_bank((text + tests).encode(), "tiny.yaml")
    papers = set_test(tiny, tiny.tests[0], count=9, seed=1, forms=4).papers
    assert len({question(item) for paper in papers for item in items_of(paper.parts[0])}) == 4
    with pytest.raises(SettingError, match="gives 4 different clones, 9 were asked for"):
        set_test(tiny, tiny.tests[0], count=9, seed=1)


def test_watching() -> None:
    seen: list[None] = []
    test = next(test for test in bank().tests if test.identifier == "hard")
    one = set_test(bank(), test, count=2, seed=1, watch=lambda: seen.append(None))
    assert len(seen) == sum(len(tuple(section.items)) for section in one.sections)
