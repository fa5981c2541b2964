"""Where functions are compared: a fixed list of generic rational points spread over the line or a domain.

The points are fractions with prime denominators, so that they are no usual zeros, poles or periods; the first few
are moderate and of both signs, later ones fill in, then small and large ones follow. Letters other than the variable
take positive values first and mixed ones later.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import floor

__all__ = ["fine_points_between", "letter_values", "points_between"]

_FIRST = ("58/101", "-86/97", "133/83", "-223/103", "1/13", "311/89", "-5/37", "523/107", "-431/109")
_LATER = ("-733/113", "811/127", "997/131", "-17/59", "23/31", "-140/73", "212/79", "1/211", "-1/307")
_FAR = ("1517/137", "-1733/139", "3011/149", "-2903/151", "10007/157", "-9001/163", "1/10007")

WHOLE_LINE: tuple[Fraction, ...] = (
    *(Fraction(text) for text in _FIRST + _LATER),
    *(Fraction(31 * step, 67) + Fraction(1, 971) for step in range(-16, 17)),
    *(Fraction(text) for text in _FAR),
)

#: for functions that are real on small pieces only; tried when none of the points before is in one of them
_FINE = tuple(Fraction(step, 23) + Fraction(1, 997) for step in range(-184, 185))

_LETTERS = tuple(
    Fraction(text)
    for text in ("163/89", "71/101", "227/73", "43/79", "397/83", "119/97", "29/103", "307/107")
)


def points_between(lower: Fraction | None, upper: Fraction | None) -> tuple[Fraction, ...]:
    """The sample points inside an open interval, in the order of trying; None is an end at infinity."""
    return _placed(WHOLE_LINE, lower, upper, 1)


def fine_points_between(lower: Fraction | None, upper: Fraction | None) -> tuple[Fraction, ...]:
    """Points that lie closer together, in order of size or filling an interval more closely."""
    return _placed(_FINE, lower, upper, 41)


def _placed(
    line: tuple[Fraction, ...], lower: Fraction | None, upper: Fraction | None, first: int
) -> tuple[Fraction, ...]:
    if lower is None and upper is None:
        return line
    if lower is None or upper is None:
        end, side = (lower, 1) if lower is not None else (upper, -1)
        assert end is not None
        return tuple(end + side * abs(point) for point in line)
    width = upper - lower
    # the fractional parts of the multiples of the golden section fill the interval evenly
    golden = Fraction(10946, 17711)
    steps = range(first, first + (40 if first == 1 else 200))
    return tuple(lower + width * (step * golden - floor(step * golden)) for step in steps)


def letter_values(
    names: Sequence[str], positive: frozenset[str], trial: int
) -> Iterator[tuple[str, Fraction]]:
    """Values for the other letters: positive in the first two trials of three, mixed signs in the third."""
    for place, name in enumerate(names):
        value = _LETTERS[(place * 3 + trial) % len(_LETTERS)]
        if trial % 3 == 2 and (place + trial // 3) % 2 == 0 and name not in positive:
            value = -value
        yield name, value
