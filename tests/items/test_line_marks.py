"""Marks shared out over the lines of a working."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from qbank.items.line_marks import line_marks
from qbank.techniques.presenting import Row


@given(st.lists(st.booleans(), max_size=20), st.integers(1, 20))
def test_all_marks_are_given_and_the_answer_has_one(earning: list[bool], marks: int) -> None:
    rows = [Row(kind="step", statements=(), reason="Because." if one else "") for one in earning]
    shared = line_marks(rows, marks)
    assert len(shared) == len(rows)
    assert all(one >= 0 for one in shared)
    assert all(row.reason or not one for row, one in zip(rows, shared, strict=True))
    if not any(earning):
        assert sum(shared) == 0
        return
    assert sum(shared) == marks
    last = max(place for place, one in enumerate(earning) if one)
    assert shared[last] >= 1
    if marks <= sum(earning):
        assert max(shared) == 1
