"""While an export is made the collector of cycles looks seldom, and afterwards as often as before."""

from __future__ import annotations

import gc

import pytest

from qbank.writers.collecting import collected_seldom


def fail_inside() -> None:
    with collected_seldom():
        raise OSError("the disk is full")


def test_it_looks_seldom_and_then_as_often_as_before() -> None:
    before = gc.get_threshold()
    with collected_seldom():
        assert gc.isenabled()
        assert gc.get_threshold()[0] > before[0]
        assert gc.get_threshold()[1:] == before[1:]
    assert gc.get_threshold() == before


def test_after_a_failure_too() -> None:
    before = gc.get_threshold()
    with pytest.raises(OSError, match="full"):
        fail_inside()
    assert gc.get_threshold() == before
