"""The shipped bank is valid in every format and every way of showing formulas."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.items.shipped import shipped_deck, shipped_items
from tests.packages.validity import FORMATS, SHOWN, Way, checked, ways

#: bitmaps once; MathML in QTI 1.2 is looked at by the tests of its writer
WAYS = [
    way
    for way in ways()
    if (way.options.cartridge == "1.3") == (way.options.picture == "png")
    and (way.format.startswith(("qti2", "qti3")) or way.options.math != "mathml")
]


@pytest.mark.reference
@pytest.mark.parametrize("way", WAYS, ids=lambda way: f"{way.row} {way.options.math} {way.options.picture}")
def test_no_file_is_invalid(way: Way, shared: Path) -> None:
    found = checked(way, shipped_deck(1, 1), shared)
    assert not found.invalid, found.told
    # of plain QTI 1.2 no schema is held, so only the manifest is looked at
    assert found.valid == {"cc": 2, "qti12": 1}.get(way.format, 2 + len(shipped_items(1, 1)))


def test_no_way_is_left_out() -> None:
    shown = {(way.format, way.options.math, way.options.picture) for way in ways()}
    assert shown == {(name, one.math, one.picture) for name in FORMATS for one in SHOWN.values()}
    assert len([*ways()]) == (len(FORMATS) + 3) * len(SHOWN)
