"""Published definite integrals: each enclosure holds the published value."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.reference.definite import SHARES, definite, off_the_number, share, wrong
from tests.reference.rows import DATA


def test_own_rows_are_enclosed() -> None:
    found = definite(DATA / "definite.csv")
    assert wrong(found) == []
    assert list(off_the_number(found)) == []
    assert share(found) >= SHARES["own"]


@pytest.mark.reference
def test_rows_of_the_large_file_are_enclosed(shared: Path) -> None:
    """Every fifth; `python -m tests.reference.report` takes them all."""
    found = definite(shared / "reference" / "definite.csv", every=5)
    assert len(found) > 30
    assert wrong(found) == []
    assert list(off_the_number(found)) == []
    assert share(found) >= SHARES["all"] - 1 / len(found)
