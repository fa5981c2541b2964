"""Each technique on a spread of the published integrals: its answers are the published ones up to a constant."""

from __future__ import annotations

from pathlib import Path

import pytest

from qbank.techniques.planner import TECHNIQUES
from qbank.techniques.technique import Technique
from tests.techniques.published import NOT_REAL, OTHER_LETTERS, agreement, expected


@pytest.mark.reference
@pytest.mark.parametrize("technique", TECHNIQUES, ids=lambda technique: technique.identifier)
def test_published_answers_agree(technique: Technique, shared: Path) -> None:
    """`python -m tests.reference.report` takes all rows, and says how many must be worked."""
    wanted = expected(technique)
    found = agreement(technique, shared, wanted.suite)
    assert found.applied or not wanted.fewest
    assert found.different == ()
    assert found.unsettled <= NOT_REAL | OTHER_LETTERS
