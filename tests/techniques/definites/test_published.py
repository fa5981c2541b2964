"""Published definite integrals by the way that is taught first: a spread of the rows; the report takes them all."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.techniques.published import published_ways


@pytest.mark.reference
def test_published_values(shared: Path) -> None:
    worked, wrong = published_ways(shared, every=7)
    assert wrong == []
    assert worked.total() >= 10
    assert len(worked) >= 4
