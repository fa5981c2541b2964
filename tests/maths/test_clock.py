"""Budgets count what this thread computes, not what passes on the wall."""

from __future__ import annotations

import time

import pytest

from qbank.maths import clock
from qbank.maths.clock import Deadline


def test_waiting_costs_nothing() -> None:
    deadline = Deadline(0.05)
    time.sleep(0.02)
    assert not deadline.passed()
    time.sleep(0.08)
    assert not deadline.passed()


def test_computing_does() -> None:
    deadline = Deadline(0.05)
    start = time.thread_time()
    while not deadline.passed():
        assert time.thread_time() - start < 1
    assert time.thread_time() - start > 0.03


def test_the_dear_clock_is_left_alone_at_first(monkeypatch: pytest.MonkeyPatch) -> None:
    def dear() -> float:
        raise AssertionError

    monkeypatch.setattr(clock, "thread_time", dear)
    deadline = Deadline(1)
    assert 0 < deadline.rest() <= 1
