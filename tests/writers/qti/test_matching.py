"""Matching in packages of QTI 3.0, 2.2 and 2.1: pairs score what the marker gives."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice, permutations
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from qbank.items.item import Item
from qbank.marking import MatchingMarker
from qbank.writers.qti import QTI3, QTI21, QTI22, Generation
from qbank.writers.qti.item import item_document
from tests.items.matching_items import TEMPLATES, matching_item, matching_of
from tests.writers.qti.processor import run
from tests.writers.qti.untrusted import check_texts_stay_texts, check_valid, hostile_item
from tests.writers.sample_items import X

GENERATIONS = (QTI3, QTI22, QTI21)


@pytest.mark.parametrize("name", TEMPLATES)
def test_pairs_score_what_the_marker_gives(name: str) -> None:
    item, response = matching_item(name), matching_of(name)
    documents = [item_document(item, generation, shuffle=True) for generation in GENERATIONS]
    marker = MatchingMarker(response)
    rows = [row.identifier for row in response.rows]
    partners = [one.identifier for one in response.partners]
    for taken in islice(permutations(partners, len(rows)), 0, None, 3):
        for kept in (len(rows), 1):
            matched = dict(zip(rows[:kept], taken, strict=False))
            mark = marker.mark(matched)
            told = "RIGHT" if mark.outcome == "correct" else "SLIP1" if mark.slip else "SOME"
            for document in documents:
                found = run(document, frozenset(" ".join(pair) for pair in matched.items()))
                assert found["SCORE"] == pytest.approx((mark.score or 0) * item.marks, abs=1e-12), matched
                assert (found["FEEDBACK"], found["SOLUTION"]) == (told, "WORKED")
    right = frozenset(" ".join(pair) for pair in response.pairs)
    for document in documents:
        assert run(document, right)["SCORE"] == item.marks
        assert run(document, right)["FEEDBACK"] == "RIGHT"
        # what is no pair of the item counts nothing
        assert run(document, frozenset({"A Q1", "Q1 Z", "Q1", ""}))["SCORE"] == 0
        assert run(document, None) == {
            "SCORE": 0,
            "MAXSCORE": item.marks,
            "FEEDBACK": None,
            "SOLUTION": None,
        }


def test_what_is_shown() -> None:
    top: Any = etree.fromstring(item_document(matching_item("steps"), QTI3, shuffle=True))
    (interaction,) = top.iter("{*}qti-match-interaction")
    assert interaction.get("class") == "qti-match-tabular"
    assert interaction.get("max-associations") == "3"
    (solution,) = top.iter("{*}qti-modal-feedback")
    assert "".join(solution.itertext()).count("Let ") == 2 * 2
    older = item_document(matching_item("steps"), QTI21, shuffle=True)
    assert b"class=" not in older


def hostile(text: str) -> Item:
    item, response = matching_item("alone"), matching_of("alone")
    partners = tuple(replace(one, shown=(text, X, text), feedback=(text,)) for one in response.partners)
    return hostile_item(item, replace(response, partners=partners), text)


@pytest.mark.parametrize("generation", GENERATIONS, ids=lambda one: one.version)
def test_hostile_texts_stay_texts(generation: Generation) -> None:
    check_texts_stay_texts(hostile, generation)


@pytest.mark.reference
@pytest.mark.parametrize("generation", GENERATIONS, ids=lambda one: one.version)
def test_packages_are_valid(generation: Generation, shared: Path, tmp_path: Path) -> None:
    items = [replace(matching_item(name), identifier=name) for name in TEMPLATES]
    check_valid(items, hostile, generation, shared, tmp_path)
