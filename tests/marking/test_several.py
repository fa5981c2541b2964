"""Marks of sets of options: shares added and taken away, never below 0."""

from __future__ import annotations

from qbank.marking import SeveralMarker
from tests.items.several_items import several_of


def test_marks() -> None:
    response = several_of("three-right")
    marker = SeveralMarker(response)
    right = [option.identifier for option in response.keys]
    wrong = [option for option in response.options if not option.is_key]
    assert marker.mark(right).score == 1
    assert marker.mark(right).outcome == "correct"
    part = marker.mark(right[:1])
    assert part.score == float(response.share(1))
    assert part.message == "Right as far as it goes, but there are more right options."
    spoilt = marker.mark([*right, wrong[0].identifier])
    assert spoilt.score == float(response.share(1) * (len(right) - 1))
    assert spoilt.slip == wrong[0].slip
    assert spoilt.message.startswith("Not this one.")
    both = marker.mark([one.identifier for one in wrong])
    assert (both.score, both.slip) == (0, None)
    assert marker.mark(["Z", ""]).outcome == marker.mark([]).outcome == "unreadable"
    assert marker.mark([]).score is None
