"""The comparison with SymPy's step-by-step integrator finds its rows, and stops what takes too long."""

from __future__ import annotations

from pathlib import Path

import pytest

from qbank.maths.expression import Symbol
from qbank.maths.reading import read
from tests.reference.stepwise import KINDS, Worked, compare, rows_of

X = Symbol("x")


def worked(text: str, limit: float) -> Worked:
    (found,) = compare([(read(text, variable=X).tree, X)], limit)
    return found


def test_both_work_what_both_can() -> None:
    found = worked("x e^x", 60)
    assert (found.ours, found.theirs, found.technique) == (True, True, "by-parts")
    assert not worked("x^x", 60).ours


def test_a_row_is_stopped() -> None:
    assert not worked("1/(x^8 + x + 1)^9", 0.001).theirs


@pytest.mark.reference
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_each_kind_has_rows(kind: object, shared: Path) -> None:
    assert any(rows_of(kind, shared / "reference", 40))  # type: ignore[arg-type]
