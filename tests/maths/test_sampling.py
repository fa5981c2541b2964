"""The points of comparison: inside the domain, in every region, the same every time."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.sampling import fine_points_between, letter_values, points_between


def test_the_line_is_covered() -> None:
    points = points_between(None, None)
    assert len(set(points)) == len(points)
    early = points[:14]
    for low, high in ((-8, -3), (-3, -1), (-1, 0), (0, 1), (1, 3), (3, 9)):
        assert any(low < point < high for point in early), (low, high)
    assert max(points) > 50
    assert min(points) < -50


@pytest.mark.parametrize(("lower", "upper"), [(Fraction(2), None), (None, Fraction(-3)), (Fraction(0), None)])
def test_half_lines(lower: Fraction | None, upper: Fraction | None) -> None:
    for point in points_between(lower, upper):
        assert lower is None or point > lower
        assert upper is None or point < upper


@settings(max_examples=50)
@given(
    st.fractions(-100, 100, max_denominator=100), st.fractions(Fraction(1, 1000), 100, max_denominator=1000)
)
def test_intervals_are_filled_evenly(lower: Fraction, width: Fraction) -> None:
    points = points_between(lower, lower + width)
    assert all(lower < point < lower + width for point in points)
    for step in range(10):
        low = lower + width * step / 10
        assert any(low < point < low + width / 10 for point in points)


def test_letters_are_positive_first_and_of_both_signs_later() -> None:
    trials = [dict(letter_values(("a", "b"), frozenset({"b"}), trial)) for trial in range(12)]
    assert all(value > 0 for trial in trials[:2] for value in trial.values())
    assert any(trial["a"] < 0 for trial in trials)
    assert all(trial["b"] > 0 for trial in trials)
    assert all(trial["a"] != trial["b"] for trial in trials)


def test_fine_points_are_closer_and_new() -> None:
    fine = fine_points_between(None, None)
    assert all(0 < b - a < Fraction(1, 20) for a, b in pairwise(fine))
    inside = fine_points_between(Fraction(1), Fraction(2))
    assert all(1 < point < 2 for point in inside)
    assert not set(inside) & set(points_between(Fraction(1), Fraction(2)))
    assert all(point > 3 for point in fine_points_between(Fraction(3), None))
