"""The table of what formats can carry."""

from __future__ import annotations

from typing import get_args

from qbank.bank.model import ResponseForm
from qbank.writers import USUAL, WRITERS, what_formats_carry
from qbank.writers.carrying import FEATURES


def test_every_response_form_is_a_feature() -> None:
    assert set(get_args(ResponseForm)) <= set(FEATURES)


def test_the_usual_formats_exist_and_carry_every_form() -> None:
    for name in USUAL:
        assert set(get_args(ResponseForm)) <= WRITERS[name].carries


def test_the_table_has_a_row_for_each_feature_and_a_cell_for_each_format() -> None:
    head, *rows = what_formats_carry()
    assert head.split() == list(WRITERS)
    assert len(rows) == len(FEATURES)
    for row, (feature, title) in zip(rows, FEATURES.items(), strict=True):
        assert row.startswith(title)
        cells = row.removeprefix(title).split()
        assert cells == ["yes" if feature in writer.carries else "-" for writer in WRITERS.values()]
