"""The points at which a question is looked at: values for all its letters, and their balls, worked out once.

Many questions are asked about the same letters on the same domain, so the points are remembered.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache

from qbank.maths.balls import Ball, precision, to_ball
from qbank.maths.sampling import fine_points_between, letter_values, points_between

__all__ = ["Point", "Samples", "samples"]


class Point:
    """Values of letters, and their balls at each precision asked for.

    Args:
        values: the value of each letter by its name.
    """

    __slots__ = ("_balls", "values")

    def __init__(self, values: Mapping[str, Fraction]) -> None:
        self.values = values
        self._balls: dict[int, Mapping[str, Ball]] = {}

    def balls(self, bits: int) -> Mapping[str, Ball]:
        """The balls of the letters' values at so many bits."""
        found = self._balls.get(bits)
        if found is None:
            with precision(bits):
                found = {name: to_ball(value) for name, value in self.values.items()}
            self._balls[bits] = found
        return found


class Samples:
    """The sample points of a question, each made when it is first wanted.

    Args:
        variable: the letter that runs over the domain.
        letters: the names of all other letters.
        positive: the names of those that are positive.
        lower: the lower end of the domain, None at infinity.
        upper: the upper end.

    Attributes:
        count: how many there are.
        usual: how many points are tried in any case; the rest only if no value is found at those.
    """

    def __init__(
        self,
        variable: str,
        letters: tuple[str, ...],
        positive: frozenset[str],
        lower: Fraction | None,
        upper: Fraction | None,
    ) -> None:
        first = points_between(lower, upper)
        self.usual = len(first)
        self._numbers = first + fine_points_between(lower, upper)
        self._variable, self._letters, self._positive = variable, letters, positive
        self.count = len(self._numbers)
        self._points: dict[int, Point] = {}

    def __getitem__(self, place: int) -> Point:
        found = self._points.get(place)
        if found is None:
            others = letter_values(self._letters, self._positive, place)
            values = {self._variable: self._numbers[place], **dict(others)}
            found = self._points[place] = Point(values)
        return found

    def number(self, place: int) -> Fraction:
        """The value of the variable at a point."""
        return self._numbers[place]


@lru_cache(maxsize=64)
def samples(
    variable: str,
    letters: tuple[str, ...],
    positive: frozenset[str],
    lower: Fraction | None,
    upper: Fraction | None,
) -> Samples:
    """The sample points of a question; see `Samples`.

    >>> chosen = samples("x", ("C",), frozenset(), None, None)
    >>> chosen[0].values
    {'x': Fraction(58, 101), 'C': Fraction(163, 89)}
    """
    return Samples(variable, letters, positive, lower, upper)
