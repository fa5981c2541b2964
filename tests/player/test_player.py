"""At least forty items of the shipped bank, every technique, in an independent QTI 3 reader."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from qbank.cli.arguments import open_bank
from tests.player.run import items_of_the_bank, missing, play, sample_items, table


@pytest.mark.browser
def test_items_score_as_they_must(shared: Path) -> None:
    reason = missing(shared)
    if reason is not None and os.environ.get("QBANK_BROWSER") != "required":
        pytest.skip(reason)
    assert reason is None, reason
    items = (*sample_items(), *items_of_the_bank(2))
    assert len(items) >= 40
    assert {item.technique for item in items} >= {
        template.technique for template in open_bank(None).templates
    }
    outcomes = play(items, shared)
    print("\n".join(table(outcomes)))
    assert not [outcome for outcome in outcomes if outcome.faults], "\n" + "\n".join(table(outcomes))
    kinds = {(outcome.case.item.form, outcome.case.kind) for outcome in outcomes}
    assert kinds >= {
        ("choice", "right"),
        ("choice", "wrong"),
        ("choice", "blank"),
        ("numeric", "right"),
        ("numeric", "wrong"),
        ("numeric", "blank"),
        ("numeric", "malformed"),
        ("free-expression", "shown"),
    }
