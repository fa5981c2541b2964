"""Where factors can have which signs: ranges of generators and the gaps between real roots."""

from __future__ import annotations

from fractions import Fraction

import pytest
from flint import fmpz_poly

from qbank.maths.exact.patterns import _between, _patterns, _tangents


@pytest.mark.parametrize(
    ("polynomials", "limits", "patterns"),
    [
        ([[0, 1]], (None, None), {(1,), (-1,)}),
        ([[0, 1]], (Fraction(0), None), {(1,)}),
        ([[0, 1]], (None, Fraction(0)), {(-1,)}),
        ([[-1, 1], [1, 1]], (None, None), {(1, 1), (-1, 1), (-1, -1)}),
        ([[-1, 1], [1, 1]], (Fraction(-1), Fraction(1)), {(-1, 1)}),
        ([[-2, 0, 1]], (Fraction(-1), Fraction(1)), {(-1,)}),
        ([[1, 0, 1]], (None, None), {(1,)}),
        ([[1, -1], [0, 1]], (Fraction(0), None), {(1, 1), (-1, 1)}),
    ],
)
def test_signs_between_roots(
    polynomials: list[list[int]],
    limits: tuple[Fraction | None, Fraction | None],
    patterns: set[tuple[int, ...]],
) -> None:
    assert _patterns([fmpz_poly(numbers) for numbers in polynomials], limits) == patterns


def test_tangents_of_the_ends() -> None:
    lower, upper = _tangents(Fraction(1, 2), (Fraction(-1), Fraction(2)))
    assert lower is not None
    assert upper is not None
    assert lower < Fraction(-54630, 100000) < lower + Fraction(1, 10**5)  # tan(-1/2) = -0.546302...
    assert upper > Fraction(155740, 100000) > upper - Fraction(1, 10**4)  # tan 1 = 1.557407...
    # a pole of the tangent lies between
    assert _tangents(Fraction(1, 2), (Fraction(0), Fraction(4))) == (None, None)


def test_places_in_gaps() -> None:
    assert _between(None, None) == 0
    assert _between(None, Fraction(3)) == 2
    assert _between(Fraction(3), None) == 4
    assert _between(Fraction(3), Fraction(4)) == Fraction(7, 2)
