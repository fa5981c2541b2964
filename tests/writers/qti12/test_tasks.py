"""Tasks about working in QTI 1.2: several responses of one item in a plain package, a question for each in a cartridge."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice, product
from pathlib import Path
from typing import Any

import pytest

from qbank.items.deck import Deck, Section
from qbank.marking import TaskMarker
from qbank.writers import WRITERS, Options
from tests.items import gap_items
from tests.items.task_items import TEMPLATES, task_item, task_of
from tests.writers.qti.test_gaps import hostile as hostile_gaps
from tests.writers.qti.test_package import HOSTILE
from tests.writers.qti.test_tasks import hostile
from tests.writers.qti12.processor import Outcome, items, run
from tests.writers.qti12.reading import members
from tests.writers.qti12.untrusted import KINDS, check_valid_and_harmless
from tests.writers.sample_items import deck


def sample(*more: Any) -> Deck:
    found = [replace(task_item(name), identifier=name) for name in TEMPLATES]
    return deck(Section(template="t", title="t", items=(*found, *more), pick=None))


def written(name: str, purpose: Any = "assessment") -> dict[str, Any]:
    files = members(WRITERS[name].write(sample(), Options(purpose=purpose)))
    found = [one for path, data in files.items() if "manifest" not in path for one in items(data)]
    return {one.get("ident"): one for one in found}


@pytest.mark.parametrize("template", TEMPLATES)
def test_a_plain_item_scores_what_the_marker_gives(template: str) -> None:
    response, element = task_of(template), written("qti12")[template]
    marker, marks = TaskMarker(response), task_item(template).marks
    alone = len(response.choices) == 1
    offered = [(None, *(option.identifier for option in one.options)) for one in response.choices]
    right = tuple(one.key.identifier for one in response.choices)
    for taken in (right, *islice(product(*offered), 1, None, 7)):
        names = [one.identifier for one in response.choices]
        chosen = {one: option for one, option in zip(names, taken, strict=True) if option}
        outcome = run(element, {"RESPONSE": chosen["Q1"]} if alone else chosen)
        assert outcome.score == pytest.approx(marker.mark(chosen).score or 0, abs=1e-12), (taken, marks)
        assert [one for one in outcome.shown if one != "solution"] == [
            f"feedback_{o}" for o in chosen.values()
        ]
        assert "solution" in outcome.shown
    assert run(element, {}) == run(element, None) == Outcome(0, ())


@pytest.mark.parametrize("purpose", ["assessment", "bank"])
def test_a_cartridge_asks_for_each_by_itself(purpose: Any) -> None:
    found = written("cc", purpose)
    assert len(found) == sum(len(task_of(name).choices) for name in TEMPLATES)
    for name in TEMPLATES:
        response, marks = task_of(name), task_item(name).marks
        alone = len(response.choices) == 1
        for question in response.choices:
            element = found[name if alone else f"{name}-{question.identifier}"]
            weights = [one.text for one in element.iter("{*}fieldentry")]
            assert str(max(1, marks // len(response.choices))) in weights
            assert "cc.multiple_choice.v0p1" in weights
            for option in question.options:
                outcome = run(element, {"RESPONSE": option.identifier})
                assert outcome == Outcome(int(option.right), (f"feedback_{option.identifier}", "solution"))
            assert run(element, None) == Outcome(0, ())


@pytest.mark.reference
@pytest.mark.parametrize(("name", "purpose"), KINDS)
def test_valid_with_hostile_texts(shared: Path, tmp_path: Path, name: str, purpose: Any) -> None:
    gaps = [replace(gap_items.gap_item(one), identifier=one) for one in gap_items.TEMPLATES]
    text = " ".join(HOSTILE)
    wild = (hostile(text), replace(hostile_gaps(text), identifier="hostile-gaps"))
    check_valid_and_harmless(sample(*gaps, *wild), name, purpose, shared, tmp_path)
