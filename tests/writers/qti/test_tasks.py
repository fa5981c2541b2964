"""Tasks about working in packages of QTI 3.0, 2.2 and 2.1: options score what the marker gives."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice, product
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from qbank.items.item import Item
from qbank.marking import TaskMarker
from qbank.writers.qti import QTI3, QTI21, QTI22, Generation
from qbank.writers.qti.item import item_document
from tests.items import gap_items
from tests.items.task_items import TEMPLATES, task_item, task_of
from tests.writers.qti import test_gaps
from tests.writers.qti.processor import run
from tests.writers.qti.test_package import HOSTILE
from tests.writers.qti.untrusted import check_texts_stay_texts, check_valid, hostile_item
from tests.writers.sample_items import X

GENERATIONS = (QTI3, QTI22, QTI21)


@pytest.mark.parametrize("name", TEMPLATES)
def test_options_score_what_the_marker_gives(name: str) -> None:
    item, response = task_item(name), task_of(name)
    documents = [item_document(item, generation, shuffle=True) for generation in GENERATIONS]
    marker = TaskMarker(response)
    alone = len(response.choices) == 1
    ends = {one.identifier: "" if alone else f"_{one.identifier}" for one in response.choices}
    offered = [(None, *(option.identifier for option in one.options)) for one in response.choices]
    every = [tuple(one.key.identifier for one in response.choices), *islice(product(*offered), 1, None, 7)]
    for taken in every:
        chosen = {one: option for one, option in zip(ends, taken, strict=True) if option}
        mark = marker.mark(chosen)
        for document in documents:
            found = run(document, {f"RESPONSE{ends[one]}": option for one, option in chosen.items()})
            assert found["SCORE"] == pytest.approx((mark.score or 0) * item.marks, abs=1e-12), taken
            assert {one: found[f"FEEDBACK{end}"] for one, end in ends.items()} == {
                one: chosen.get(one) for one in ends
            }
            assert found["SOLUTION"] == ("WORKED" if chosen else None)
            if mark.outcome == "correct":
                assert found["SCORE"] == item.marks


def test_a_choice_shows_its_steps_and_their_feedback() -> None:
    top: Any = etree.fromstring(item_document(task_item("circular"), QTI3, shuffle=True))
    (interaction,) = top.iter("{*}qti-choice-interaction")
    assert (interaction.get("shuffle"), interaction.get("max-choices")) == ("true", "1")
    choices = ["".join(one.itertext()) for one in interaction.iter("{*}qti-simple-choice")]
    assert any(one.startswith("The power of the sine is odd") for one in choices)
    assert len(choices) == len(list(interaction.iter("{*}qti-feedback-block"))) == 4


def hostile(text: str) -> Item:
    item, response = task_item("circular"), task_of("circular")
    questions = tuple(
        replace(
            one,
            options=tuple(replace(o, shown=(text, X, text), feedback=(text,)) for o in one.options),
        )
        for one in response.choices
    )
    return hostile_item(item, replace(response, questions=questions), text)


@pytest.mark.parametrize("generation", GENERATIONS, ids=lambda one: one.version)
def test_hostile_texts_stay_texts(generation: Generation) -> None:
    check_texts_stay_texts(hostile, generation)


@pytest.mark.reference
@pytest.mark.parametrize("generation", GENERATIONS, ids=lambda one: one.version)
def test_packages_are_valid(generation: Generation, shared: Path, tmp_path: Path) -> None:
    items = [replace(task_item(name), identifier=name) for name in TEMPLATES]
    items += [replace(gap_items.gap_item(name), identifier=name) for name in gap_items.TEMPLATES]
    items.append(replace(test_gaps.hostile(HOSTILE[0]), identifier="hostile-gaps"))
    check_valid(items, hostile, generation, shared, tmp_path)
