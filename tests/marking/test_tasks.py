"""Marks of tasks about working: a share for each right option."""

from __future__ import annotations

from qbank.marking import TaskMarker
from tests.items.task_items import task_of


def test_blank_lines_have_a_share_each() -> None:
    response = task_of("blank-most")
    marker, questions = TaskMarker(response), response.choices
    right = {one.identifier: one.key.identifier for one in questions}
    full = marker.mark(right)
    assert (full.outcome, full.score) == ("correct", 1)
    assert full.proof == "the right lines were proved, the wrong ones refuted"
    first, *_ = questions
    wrong = next(option for option in first.options if not option.right)
    mark = marker.mark(right | {first.identifier: wrong.identifier})
    assert mark.score == 1 - 1 / len(questions)
    assert (mark.slip, mark.message) == (wrong.slip, "".join(map(str, wrong.feedback)))
    some = marker.mark({first.identifier: first.key.identifier})
    assert some.score == 1 / len(questions)
    assert some.message == "Right as far as it goes, but something is still missing."


def test_a_first_step() -> None:
    response = task_of("exponential")
    marker, (question,) = TaskMarker(response), response.choices
    full = marker.mark({"Q1": question.key.identifier})
    assert (full.outcome, full.score, full.proof) == ("correct", 1, "the first step of a proved solution")
    for option in question.options:
        if not option.right:
            mark = marker.mark({"Q1": option.identifier})
            assert (mark.outcome, mark.score, mark.slip) == ("incorrect", 0, option.slip)
            assert mark.message
    for nothing in ({}, {"Q9": "Q1A"}, {"Q1": ""}, {"Q1": "Z"}):
        assert marker.mark(nothing).outcome == "unreadable"
