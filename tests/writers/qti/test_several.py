"""Several answers in packages of QTI 3.0, 2.2 and 2.1: every set of options scores what the marker gives."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from qbank.items.item import Item, SeveralAnswers
from qbank.marking import SeveralMarker
from qbank.writers.qti import QTI3, QTI21, QTI22, Generation
from qbank.writers.qti.item import item_document
from tests.items.several_items import TEMPLATES, several_item, several_of
from tests.writers.qti.processor import run
from tests.writers.qti.untrusted import check_texts_stay_texts, check_valid, hostile_item
from tests.writers.sample_items import X

GENERATIONS = (QTI3, QTI22, QTI21)


@pytest.mark.parametrize("name", TEMPLATES)
def test_every_set_of_options_scores_what_the_marker_gives(name: str) -> None:
    item, response = several_item(name), several_of(name)
    documents = [item_document(item, generation, shuffle=True) for generation in GENERATIONS]
    marker = SeveralMarker(response)
    names = [option.identifier for option in response.options]
    for size in range(1, len(names) + 1):
        for chosen in combinations(names, size):
            expected = (marker.mark(chosen).score or 0) * item.marks
            for document in documents:
                found = run(document, frozenset(chosen))
                assert found["SCORE"] == pytest.approx(expected, abs=1e-12), chosen
                assert found["FEEDBACK"] == frozenset(chosen)
                assert found["SOLUTION"] == "WORKED"


@pytest.mark.parametrize("name", TEMPLATES)
def test_full_marks_are_exact_and_nothing_scores_nothing(name: str) -> None:
    item, response = several_item(name), several_of(name)
    right = frozenset(option.identifier for option in response.keys)
    for generation in GENERATIONS:
        document = item_document(item, generation, shuffle=True)
        assert run(document, right)["SCORE"] == item.marks
        # what is no option counts nothing; a reader may hand on an empty container as NULL, or as it is
        assert run(document, right | {"Z", ""})["SCORE"] == item.marks
        assert run(document, frozenset({"Z", "A B", "1"}))["SCORE"] == 0
        assert run(document, frozenset())["SCORE"] == 0
        assert run(document, None) == {
            "SCORE": 0,
            "MAXSCORE": item.marks,
            "FEEDBACK": None,
            "SOLUTION": None,
        }


def test_the_right_options_are_named_in_the_solution() -> None:
    item = several_item("three-right")
    top: Any = etree.fromstring(item_document(item, QTI3, shuffle=True))
    (solution,) = top.iter("{*}qti-modal-feedback")
    assert "The right options are " in "".join(solution.itertext())
    (interaction,) = top.iter("{*}qti-choice-interaction")
    assert interaction.get("max-choices") == "0"


def hostile(text: str) -> Item:
    item = several_item("three-right")
    response = several_of("three-right")
    options = tuple(replace(one, feedback=(text, X, text)) for one in response.options)
    return hostile_item(item, SeveralAnswers(options=options), text)


@pytest.mark.parametrize("generation", GENERATIONS, ids=lambda one: one.version)
def test_hostile_texts_stay_texts(generation: Generation) -> None:
    check_texts_stay_texts(hostile, generation)


@pytest.mark.reference
@pytest.mark.parametrize("generation", GENERATIONS, ids=lambda one: one.version)
def test_packages_are_valid(generation: Generation, shared: Path, tmp_path: Path) -> None:
    items = [replace(several_item(name), identifier=name) for name in TEMPLATES]
    check_valid(items, hostile, generation, shared, tmp_path)
