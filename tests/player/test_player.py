"""More than a hundred items, of the banks of the package and made for this, in an independent QTI 3 reader."""

from __future__ import annotations

import os
from pathlib import Path
from typing import get_args

import pytest

from qbank.bank.model import ResponseForm
from qbank.items.deck import Section
from qbank.items.item import FreeExpression
from tests.items.sitting import deck as declared
from tests.player.cases import sort_of
from tests.player.reader import missing, seen_in_test
from tests.player.run import items, play, table
from tests.writers.sample_items import deck, free_cosine


def need_the_browser(shared: Path) -> None:
    reason = missing(shared)
    if reason is not None and os.environ.get("QBANK_BROWSER") != "required":
        pytest.skip(reason)
    assert reason is None, reason


@pytest.mark.browser
def test_the_rubric_is_for_the_scorer_alone(shared: Path) -> None:
    need_the_browser(shared)
    item = free_cosine(2)
    assert isinstance(item.response, FreeExpression)
    rubric = item.response.rubric[0]
    assert isinstance(rubric, str)
    section = Section(template=item.template, title=item.title, items=(item,))
    candidate, scorer = seen_in_test(deck(section), shared)
    assert rubric.strip() in scorer
    assert rubric.strip() not in candidate
    assert "Find" in candidate


@pytest.mark.browser
def test_a_form_of_a_declared_test_plays(shared: Path) -> None:
    """Its first section: what students read before they begin, and every item of it."""
    need_the_browser(shared)
    form = declared("lesson", forms=1, count=1)
    candidate, _ = seen_in_test(form, shared, "test-form-a.xml")
    starter = form.papers[0].parts[0]
    assert candidate.startswith("Read <i>this</i> first.")
    assert candidate.count("Find ") == len(starter.sections) == 3


@pytest.mark.browser
def test_reader_and_marker_agree(shared: Path) -> None:
    """On every attempt at a hundred items and more, of all response forms."""
    need_the_browser(shared)
    outcomes = play(items(1), shared)
    print("\n".join(table(outcomes)))
    assert not [outcome for outcome in outcomes if outcome.faults], "\n" + "\n".join(table(outcomes))
    assert len({outcome.case.item.identifier for outcome in outcomes}) >= 100
    kinds: dict[str, set[str]] = {}
    for outcome in outcomes:
        kinds.setdefault(sort_of(outcome.case.item), set()).add(outcome.case.kind)
    assert all(some >= {"right", "wrong", "blank", "malformed"} for some in kinds.values())
    numbers = {"near miss", "swapped"}
    assert kinds["coefficients, fractions"] >= numbers
    assert kinds["coefficients, decimals"] >= numbers
    assert kinds["coefficients, dependent"] >= {"dependent", *numbers}
    assert all(
        form.split(",")[0] in {sort.split(",")[0] for sort in kinds} for form in get_args(ResponseForm)
    )
