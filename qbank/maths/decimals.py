"""Decimal strings whose every digit is right, made from rigorous bounds."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from flint import arb

__all__ = ["ball_text", "bounds", "decimal_text", "is_moderate"]

#: outside these powers of ten a number is written with an exponent, unless it has that many digits to show
PLAIN = (-5, 15)

#: a binary exponent beyond this is not written out
MOST_BITS = 40_000


def is_moderate(ball: Any) -> bool:
    """Whether a ball is neither so large nor so small that its ends would be fractions of very many digits."""
    return all(abs(int(part.man_exp()[1])) < MOST_BITS for part in (ball.mid(), ball.rad()))


def bounds(ball: Any) -> tuple[Fraction, Fraction]:
    """The exact ends of a ball (`arb`), whatever the working precision."""
    middle, radius = _dyadic(ball.mid()), _dyadic(ball.rad())
    return middle - radius, middle + radius


def _dyadic(point: Any) -> Fraction:
    mantissa, exponent = point.man_exp()
    mantissa, exponent = int(mantissa), int(exponent)
    return Fraction(mantissa * 2**exponent) if exponent >= 0 else Fraction(mantissa, 2**-exponent)


def decimal_text(lower: Fraction, upper: Fraction, digits: int) -> str | None:
    """The number between the bounds, correctly rounded to so many significant digits; None if the bounds are too wide.

    >>> decimal_text(Fraction(1, 3), Fraction(1, 3), 5)
    '0.33333'
    >>> decimal_text(Fraction(-2), Fraction(-2), 5)
    '-2'
    >>> decimal_text(Fraction(1, 3), Fraction(1, 2), 5) is None
    True
    """
    if lower == upper == 0:
        return "0"
    low, high = _rounded(lower, digits), _rounded(upper, digits)
    return _written(*low) if low == high and low[0] else None


def ball_text(ball: Any, digits: int) -> str | None:
    """The number in a ball, correctly rounded to so many significant digits, however large or small it is."""
    if is_moderate(ball):
        return decimal_text(*bounds(ball), digits)
    if ball.contains(0):
        return None
    power = (abs(ball).log() / arb(10).log()).floor().unique_fmpz()
    if power is None:
        return None
    scaled = ball / arb(10) ** power
    text = decimal_text(*bounds(scaled), digits) if is_moderate(scaled) else None
    return None if text is None or "e" in text else f"{text}e{power}"


def _rounded(value: Fraction, digits: int) -> tuple[int, int]:
    """The value as a whole number of so many digits times a power of ten."""
    if not value:
        return 0, 0
    # in whole numbers throughout: fractions would be reduced at every step
    above, below = abs(value.numerator), value.denominator
    # an estimate of the decimal exponent from the bit lengths, off by at most one either way
    power = (above.bit_length() - below.bit_length()) * 30103 // 100000
    while not _is_less(above, below, power + 1):
        power += 1
    while _is_less(above, below, power):
        power -= 1
    scale = power - digits + 1
    over, under = (above, below * 10**scale) if scale >= 0 else (above * 10**-scale, below)
    whole, rest = divmod(over, under)
    if 2 * rest > under or (2 * rest == under and whole % 2):
        whole += 1
    if whole == 10**digits:
        whole, scale = whole // 10, scale + 1
    return (-whole if value < 0 else whole), scale


def _is_less(above: int, below: int, power: int) -> bool:
    """Whether above/below is less than a power of ten."""
    factor: int = 10 ** abs(power)
    return above < below * factor if power >= 0 else above * factor < below


def _written(whole: int, scale: int) -> str:
    sign, text = ("-" if whole < 0 else ""), str(abs(whole))
    power = len(text) - 1 + scale
    text = text.rstrip("0")
    if not PLAIN[0] < power < max(PLAIN[1], len(text)):
        return f"{sign}{text[0]}{'.' + text[1:] if text[1:] else ''}e{power}"
    if power < 0:
        return f"{sign}0.{'0' * (-power - 1)}{text}"
    whole_part, fraction = text[: power + 1].ljust(power + 1, "0"), text[power + 1 :]
    return f"{sign}{whole_part}{'.' + fraction if fraction else ''}"
