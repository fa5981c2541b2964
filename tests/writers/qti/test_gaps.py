"""Gaps of workings in packages of QTI 3.0, 2.2 and 2.1: boxes in the lines, numbers scored as the marker does it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from lxml import etree

from qbank.items.item import Item
from qbank.items.tasks.asked import TaskGap
from qbank.marking import TaskMarker
from qbank.maths.notation import plain
from qbank.writers.qti import QTI3, QTI21, QTI22, Generation
from qbank.writers.qti.item import item_document
from tests.items.gap_items import TEMPLATES, gap_item, gaps_of
from tests.writers.qti.binding import attribute
from tests.writers.qti.processor import run
from tests.writers.qti.untrusted import check_texts_stay_texts, hostile_item
from tests.writers.sample_items import X

GENERATIONS = (QTI3, QTI22, QTI21)
QTI3_SUP = f"{{{QTI3.items}}}sup"
NUMBERS = ("gap-one", "gap-numbers", "gap-signs", "gap-numbers-and-lines")
EXPRESSIONS = ("gap-expressions", "gap-all")


def answers(name: str) -> Iterator[dict[str, str]]:
    """Responses of all kinds."""
    item, response = gap_item(name), gaps_of(name)
    right = {
        one.identifier: plain(one.value, item.conventions) if isinstance(one, TaskGap) else one.key.identifier
        for one in response.questions
    }
    yield right
    yield {}
    for gap in response.gaps:
        yield {gap.identifier: right[gap.identifier]}
        yield {key: text for key, text in right.items() if key != gap.identifier}
        for text in (
            f"{right[gap.identifier]} ",
            f" {right[gap.identifier]}",
            "7/3",
            "x",
            "(",
            "1/0",
            "0.5",
            "-1",
        ):
            yield {**right, gap.identifier: text}


@pytest.mark.parametrize("name", NUMBERS)
def test_numbers_score_what_the_marker_gives(name: str) -> None:
    item, response = gap_item(name), gaps_of(name)
    documents = [item_document(item, generation, shuffle=True) for generation in GENERATIONS]
    marker = TaskMarker(response, conventions=item.conventions)
    alone = len(response.questions) == 1
    for given in answers(name):
        mark = marker.mark(given)
        for document in documents:
            found = run(
                document, {"RESPONSE" if alone else f"RESPONSE_{one}": text for one, text in given.items()}
            )
            assert found["SCORE"] == pytest.approx((mark.score or 0) * item.marks, abs=1e-12), given
            assert found["SOLUTION"] == ("WORKED" if given else None)
            for gap in response.gaps:
                told = found["FEEDBACK" if alone else f"FEEDBACK_{gap.identifier}"]
                full = TaskMarker(replace(response, questions=(gap,))).mark(given).score == 1
                wanted = f"{gap.identifier}{'RIGHT' if full else 'WRONG'}"
                assert told == (wanted if gap.identifier in given else None)


@pytest.mark.parametrize("name", EXPRESSIONS)
@pytest.mark.parametrize("generation", GENERATIONS, ids=lambda one: one.version)
def test_expressions_are_for_a_person(name: str, generation: Generation) -> None:
    item = gap_item(name)
    document = item_document(item, generation, shuffle=True)
    for given in answers(name):
        found = run(document, {f"RESPONSE_{one}": text for one, text in given.items()})
        assert found["SCORE"] is None
    top: Any = etree.fromstring(document)
    (score,) = (one for one in top.iter() if attribute(one, "identifier") == "SCORE" and len(one) == 0)
    assert ("human" in score.values()) == generation.human_scoring
    rubric = next(one for one in top.iter() if str(one.tag).lower().endswith(("rubric-block", "rubricblock")))
    text = "".join(rubric.itertext())
    assert all(f"Line {one.line}: " in text for one in gaps_of(name).questions)
    assert f"Marks for a full answer: {item.marks}." in text


@pytest.mark.parametrize("name", TEMPLATES)
def test_boxes_stand_in_their_lines_and_have_names(name: str) -> None:
    top: Any = etree.fromstring(item_document(gap_item(name), QTI3, shuffle=True))
    boxes = list(top.iter("{*}qti-text-entry-interaction"))
    gaps = gaps_of(name).gaps
    assert len(boxes) == len(gaps)
    lines = next(top.iter("{*}ol"))
    for number, (box, gap) in enumerate(zip(boxes, gaps, strict=True), 1):
        what = "a number" if gap.letter is None else f"an expression in {gap.letter.name}"
        what += ", as exponent" if gap.raised else ""
        assert (box.getparent().tag == QTI3_SUP) == gap.raised
        assert ("Type the exponent." in "".join(line_of(box).itertext())) == gap.raised
        assert box.get("aria-label") == f"Gap {number} of {len(gaps)}, in line {gap.line}: {what}"
        assert lines.index(line_of(box)) == gap.line - 1


def line_of(box: Any) -> Any:
    (line,) = box.iterancestors("{*}li")
    return line


def hostile(text: str) -> Item:
    item, response = gap_item("gap-numbers"), gaps_of("gap-numbers")
    questions = tuple(replace(gap, right=(text, X), wrong=(text, X, text)) for gap in response.gaps)
    lines = tuple(
        replace(
            line,
            row=replace(line.row, reason=text),
            gapped=None if line.gapped is None else replace(line.gapped, reason=text),
        )
        for line in response.lines
    )
    return hostile_item(item, replace(response, questions=questions, lines=lines), text)


@pytest.mark.parametrize("generation", GENERATIONS, ids=lambda one: one.version)
def test_hostile_texts_stay_texts(generation: Generation) -> None:
    check_texts_stay_texts(hostile, generation)
