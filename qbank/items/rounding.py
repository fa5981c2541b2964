"""Numbers to a stated accuracy: the rounded value, the bounds of what is accepted, and when rounding is borderline."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

__all__ = ["Rounded", "accepted", "overlap", "round_between", "round_to_figures"]

#: an exact value nearer to the middle between two roundings than this part of a unit is not used
_BORDER = Fraction(1, 20)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rounded:
    """A value rounded to significant figures.

    Attributes:
        text: the digits, with a decimal point.
        lower: half a unit of the last figure below.
        upper: half a unit of the last figure above.
        borderline: whether the exact value lies so close to `lower` or `upper` that a student who works to a
            few more figures could round it the other way.
    """

    text: str
    lower: Fraction
    upper: Fraction
    borderline: bool


def round_to_figures(value: Fraction, figures: int) -> Rounded | None:
    """Round to significant figures, halves away from zero.

    Args:
        value: the value, exact or known far beyond `figures`.
        figures: how many significant figures.

    Returns:
        The rounded value; None for zero, which has no significant figures.

    >>> round_to_figures(Fraction(2, 3), 3).text
    '0.667'
    >>> round_to_figures(Fraction(-12345), 2).text
    '-12000'
    """
    if not value:
        return None
    size, exponent = abs(value), 0
    while size >= Fraction(10) ** (exponent + 1):
        exponent += 1
    while size < Fraction(10) ** exponent:
        exponent -= 1
    unit = Fraction(10) ** (exponent - figures + 1)
    count = int(size / unit + Fraction(1, 2))
    border = abs(size / unit - count) > Fraction(1, 2) - _BORDER
    middle = count * unit if value > 0 else -count * unit
    # 0.9996 to three figures is 1.00: the carry makes one decimal place fewer, and its last figure is a larger unit
    carried = count == 10**figures
    places = max(0, figures - 1 - exponent - carried)
    unit = 10 * unit if carried else unit
    return Rounded(
        text=_decimal(middle, places), lower=middle - unit / 2, upper=middle + unit / 2, borderline=border
    )


def round_between(lower: Fraction, upper: Fraction, figures: int) -> Rounded | None:
    """Round a value that is known to lie between bounds far closer than a unit of its last figure.

    Returns:
        The rounded value; None where it may be zero.

    >>> round_between(Fraction(-1, 10**9), Fraction(1, 10**9), 3) is None
    True
    """
    return None if lower <= 0 <= upper else round_to_figures((lower + upper) / 2, figures)


def accepted(lower: Fraction, upper: Fraction, figures: int) -> tuple[Fraction, Fraction]:
    """Which decimals are right for a value that is known to lie between such bounds.

    They reach half a unit of the last figure to either side of the rounded value. A value that may be zero has no
    significant figures: for it they reach half a unit of the decimal place of that number. No package asks for one.

    >>> accepted(Fraction(31415, 10000), Fraction(31416, 10000), 3) == (Fraction(3135, 1000), Fraction(3145, 1000))
    True
    >>> accepted(Fraction(0), Fraction(0), 3)[1]
    Fraction(1, 2000)
    """
    rounded = round_between(lower, upper, figures)
    if rounded is None:
        return Fraction(-1, 2 * 10**figures), Fraction(1, 2 * 10**figures)
    return rounded.lower, rounded.upper


def _decimal(value: Fraction, places: int) -> str:
    scaled = int(abs(value) * 10**places)
    whole, rest = divmod(scaled, 10**places)
    sign = "-" if value < 0 else ""
    return f"{sign}{whole}.{rest:0{places}d}" if places else f"{sign}{whole}"


def overlap(first: Rounded, second: Rounded) -> bool:
    """Whether some number lies within the bounds of both."""
    return first.lower <= second.upper and second.lower <= first.upper
