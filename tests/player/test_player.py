"""At least forty items, of the shipped bank and made for this, every technique, in an independent QTI 3 reader."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from qbank.cli.arguments import open_bank
from qbank.items.deck import Section
from qbank.items.item import FreeExpression
from tests.items.sitting import deck as declared
from tests.player.run import missing, one_of_each_form, play, sample_items, seen_in_test, table
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
def test_items_score_as_they_must(shared: Path) -> None:
    need_the_browser(shared)
    items = (*sample_items(), *one_of_each_form())
    assert len(items) >= 40
    assert {item.technique for item in items} >= {
        template.technique for template in open_bank(None).templates
    }
    outcomes = play(items, shared)
    print("\n".join(table(outcomes)))
    assert not [outcome for outcome in outcomes if outcome.faults], "\n" + "\n".join(table(outcomes))
    kinds = {(outcome.case.item.form, outcome.case.kind) for outcome in outcomes}
    assert kinds >= {
        ("choice", "right"),
        ("choice", "wrong"),
        ("choice", "blank"),
        *(("several-answers", kind) for kind in ("right", "partial", "wrong", "blank")),
        ("matching", "blank"),
        ("numeric", "right"),
        ("numeric", "wrong"),
        ("numeric", "blank"),
        ("numeric", "malformed"),
        *(("evaluation", kind) for kind in ("right", "wrong", "blank", "malformed")),
        ("free-expression", "shown"),
        *(("coefficients", kind) for kind in ("right", "dependent", "wrong", "near miss", "swapped")),
        ("coefficients", "blank"),
        ("coefficients", "malformed"),
    }
