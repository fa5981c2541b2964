"""While an export is made the collector of cycles looks seldom, and afterwards as often as before."""

from __future__ import annotations

import gc
from pathlib import Path

import pytest

from qbank.writers.archive import OutputError
from qbank.writers.collecting import collected_seldom


def test_it_looks_as_often_as_before_after_a_failure_too() -> None:
    before = gc.get_threshold()
    with pytest.raises(OutputError), collected_seldom():
        assert gc.isenabled()
        assert gc.get_threshold()[0] > before[0]
        assert gc.get_threshold()[1:] == before[1:]
        raise OutputError(Path("a"), "it is full", "make room")
    assert gc.get_threshold() == before
