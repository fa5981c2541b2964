"""Gaps of workings in QTI 1.2: several boxes in a plain item, one for each question in a cartridge; essays for expressions."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from qbank.items.deck import Section
from qbank.items.tasks.asked import TaskGap
from qbank.marking import TaskMarker
from qbank.maths.notation import plain
from qbank.writers import WRITERS, Options
from tests.items.gap_items import TEMPLATES, gap_item, gaps_of
from tests.writers.qti12.processor import items, run
from tests.writers.qti12.reading import members
from tests.writers.sample_items import deck

NUMBERS = ("gap-one", "gap-numbers", "gap-numbers-and-lines")


def sample() -> Any:
    found = [replace(gap_item(name), identifier=name) for name in TEMPLATES]
    return deck(Section(template="t", title="t", items=tuple(found), pick=None))


def written(name: str) -> dict[str, Any]:
    files = members(WRITERS[name].write(sample(), Options(purpose="assessment")))
    found = [one for path, data in files.items() if "manifest" not in path for one in items(data)]
    return {one.get("ident"): one for one in found}


def keys(name: str) -> dict[str, str]:
    return {
        one.identifier: plain(one.value) if isinstance(one, TaskGap) else one.key.identifier
        for one in gaps_of(name).questions
    }


@pytest.mark.parametrize("name", NUMBERS)
def test_a_plain_item_scores_what_the_marker_gives(name: str) -> None:
    response, element, right = gaps_of(name), written("qti12")[name], keys(name)
    marker = TaskMarker(response)
    given = [right, *({one: text} for one, text in right.items())]
    given += [{**right, gap.identifier: text} for gap in response.gaps for text in ("7/3", "x", "1/0", "-1")]
    for answers in given:
        outcome = run(element, {"RESPONSE": right["Q1"], **answers} if len(right) == 1 else answers)
        if len(right) == 1:
            outcome = run(element, {"RESPONSE": answers["Q1"]})
        assert outcome.score == pytest.approx(marker.mark(answers).score or 0, abs=1e-12), answers
        assert "solution" in outcome.shown
    assert run(element, {}).score == run(element, None).score == 0


def test_a_cartridge_asks_for_each_by_itself() -> None:
    found = written("cc")
    assert len(found) == sum(len(gaps_of(name).questions) for name in TEMPLATES)
    for name in TEMPLATES:
        response = gaps_of(name)
        for question in response.questions:
            element = found[name if len(response.questions) == 1 else f"{name}-{question.identifier}"]
            profile = next(one.text for one in element.iter("{*}fieldentry") if "cc." in (one.text or ""))
            if not isinstance(question, TaskGap):
                assert profile == "cc.multiple_choice.v0p1"
                continue
            assert profile == ("cc.fib.v0p1" if question.letter is None else "cc.essay.v0p1")
            if question.letter is None:
                assert run(element, {"RESPONSE": plain(question.value)}).score == 1
                assert run(element, {"RESPONSE": "7/3"}).score == 0
