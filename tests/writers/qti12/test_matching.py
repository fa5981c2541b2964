"""Matching in QTI 1.2: several responses of one item in a plain package, a question for each integral in a cartridge."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice, permutations
from pathlib import Path
from typing import Any

import pytest

from qbank.items.deck import Deck, Section
from qbank.items.item import Matching
from qbank.marking import MatchingMarker
from qbank.writers import WRITERS, Options
from qbank.writers.qti12.matching import row_items
from tests.items.matching_items import TEMPLATES, matching_item, matching_of
from tests.writers.qti.test_matching import hostile
from tests.writers.qti.test_package import HOSTILE
from tests.writers.qti12.processor import Outcome, items, run
from tests.writers.qti12.reading import Seen, members, texts
from tests.writers.qti12.untrusted import KINDS, check_valid_and_harmless
from tests.writers.sample_items import deck


def sample(*more: Any) -> Deck:
    found = [replace(matching_item(name), identifier=name) for name in TEMPLATES]
    return deck(Section(template="t", title="t", items=(*found, *more), pick=None))


def written(name: str, purpose: Any = "assessment") -> dict[str, Any]:
    files = members(WRITERS[name].write(sample(), Options(purpose=purpose)))
    found = [one for path, data in files.items() if "manifest" not in path for one in items(data)]
    return {one.get("ident"): one for one in found}


@pytest.mark.parametrize("template", TEMPLATES)
def test_a_plain_item_scores_what_the_marker_gives(template: str) -> None:
    response, element = matching_of(template), written("qti12")[template]
    marker, rows = MatchingMarker(response), [row.identifier for row in response.rows]
    partners = [one.identifier for one in response.partners]
    for taken in islice(permutations(partners, len(rows)), 0, None, 3):
        for kept in (len(rows), 2):
            matched = dict(zip(rows[:kept], taken, strict=False))
            mark, outcome = marker.mark(matched), run(element, matched)
            assert outcome.score == pytest.approx(mark.score or 0, abs=1e-12)
            assert any(one.startswith("feedback") for one in outcome.shown) == bool(mark.slip)
            assert "solution" in outcome.shown
    # not one to one: each row counts for itself
    assert run(element, dict.fromkeys(rows, response.rows[0].partner)).score == pytest.approx(1 / len(rows))
    assert run(element, {}) == run(element, None) == Outcome(0, ())
    assert run(element, {"Q1": "Z", "Q2": ""}).score == 0


@pytest.mark.parametrize("purpose", ["assessment", "bank"])
def test_a_cartridge_asks_for_each_integral(purpose: Any) -> None:
    found = written("cc", purpose)
    assert len(found) == sum(len(matching_of(name).rows) for name in TEMPLATES)
    for name in TEMPLATES:
        response, marks = matching_of(name), matching_item(name).marks
        for row in response.rows:
            element = found[f"{name}-{row.identifier}"]
            weights = [one.text for one in element.iter("{*}fieldentry")]
            assert str(max(1, marks // len(response.rows))) in weights
            assert "cc.multiple_choice.v0p1" in weights
            for partner in response.partners:
                outcome = run(element, {row.identifier: partner.identifier})
                assert outcome.score == (partner.identifier == row.partner)
                said = (
                    f"feedback_{partner.identifier}"
                    if partner.misled == row.identifier
                    else "feedback_right"
                    if partner.identifier == row.partner
                    else "feedback_other"
                )
                assert outcome.shown == (said, "solution")
            assert run(element, None) == Outcome(0, ())
            (presentation,) = element.iter("{*}presentation")
            asked = Seen(texts(presentation)[0]).text
            assert asked.startswith("What is the first step" if response.shows == "first-step" else "Find ")


def test_a_question_of_one_integral_is_left_as_it_is() -> None:
    item = matching_item("alone")
    one, *_ = row_items(item, matching_of("alone"))
    assert isinstance(one.response, Matching)
    assert row_items(one, one.response) == (one,)


@pytest.mark.reference
@pytest.mark.parametrize(("name", "purpose"), KINDS)
def test_valid_with_hostile_texts(shared: Path, tmp_path: Path, name: str, purpose: Any) -> None:
    check_valid_and_harmless(sample(hostile(" ".join(HOSTILE))), name, purpose, shared, tmp_path)
