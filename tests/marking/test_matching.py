"""Marks of matchings: a share for each right pair."""

from __future__ import annotations

from qbank.marking import MatchingMarker
from tests.items.matching_items import matching_of


def test_marks() -> None:
    response = matching_of("alone")
    marker, right = MatchingMarker(response), dict(response.pairs)
    full = marker.mark(right)
    assert (full.outcome, full.score) == ("correct", 1)
    assert "differentiation" in full.proof
    some = marker.mark({"Q1": right["Q1"], "Q2": right["Q2"], "Q3": right["Q4"]})
    assert (some.outcome, some.score) == ("incorrect", 0.5)
    assert some.message == "Not all of the pairs are right."
    (extra,) = (one for one in response.partners if one.misled is not None)
    assert extra.misled is not None
    misled = marker.mark(right | {extra.misled: extra.identifier})
    assert (misled.score, misled.slip) == (0.75, extra.slip)
    assert misled.message.startswith("Not this one.")
    for nothing in ({}, {"Q9": "A"}, {"Q1": ""}):
        assert marker.mark(nothing).outcome == "unreadable"
    assert "first step" in MatchingMarker(matching_of("steps")).mark({"Q1": "Z"}).proof
