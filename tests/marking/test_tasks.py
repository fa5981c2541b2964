"""Marks of tasks about working: a share for each right option."""

from __future__ import annotations

from qbank.marking import TaskMarker
from tests.items.task_items import task_of


def test_a_first_step() -> None:
    response = task_of("exponential")
    marker, (question,) = TaskMarker(response), response.questions
    full = marker.mark({"Q1": question.key.identifier})
    assert (full.outcome, full.score, full.proof) == ("correct", 1, "the first step of a proved solution")
    for option in question.options:
        if not option.right:
            mark = marker.mark({"Q1": option.identifier})
            assert (mark.outcome, mark.score, mark.slip) == ("incorrect", 0, option.slip)
            assert mark.message
    for nothing in ({}, {"Q9": "Q1A"}, {"Q1": ""}, {"Q1": "Z"}):
        assert marker.mark(nothing).outcome == "unreadable"
