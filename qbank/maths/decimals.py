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
    return _are_moderate(_parts(ball))


def _are_moderate(parts: tuple[int, int, int, int]) -> bool:
    return abs(parts[1]) < MOST_BITS and abs(parts[3]) < MOST_BITS


def bounds(ball: Any) -> tuple[Fraction, Fraction]:
    """The exact ends of a ball (`arb`), whatever the working precision."""
    lower, upper, below = _ends(_parts(ball))
    return Fraction(lower, below), Fraction(upper, below)


def _parts(ball: Any) -> tuple[int, int, int, int]:
    """Middle and radius of a ball, each as a whole number and the power of two that goes with it."""
    middle, radius = ball.mid().man_exp(), ball.rad().man_exp()
    return int(middle[0]), int(middle[1]), int(radius[0]), int(radius[1])


def _ends(parts: tuple[int, int, int, int]) -> tuple[int, int, int]:
    """The ends of a ball as whole numbers over one whole number."""
    middle, power, radius, finer = parts
    least = min(power, finer, 0)
    middle, radius = middle << (power - least), radius << (finer - least)
    return middle - radius, middle + radius, 1 << -least


def decimal_text(lower: Fraction, upper: Fraction, digits: int) -> str | None:
    """The number between the bounds, correctly rounded to so many significant digits; None if the bounds are too wide.

    >>> decimal_text(Fraction(1, 3), Fraction(1, 3), 5)
    '0.33333'
    >>> decimal_text(Fraction(-2), Fraction(-2), 5)
    '-2'
    >>> decimal_text(Fraction(1, 3), Fraction(1, 2), 5) is None
    True
    """
    numbers = lower.numerator, lower.denominator, upper.numerator, upper.denominator
    return _text(*numbers, digits)


def _text(low: int, below_low: int, high: int, below_high: int, digits: int) -> str | None:
    """The number between two quotients, as in `decimal_text`."""
    if low == high == 0:
        return "0"
    first, second = _rounded(low, below_low, digits), _rounded(high, below_high, digits)
    return _written(*first) if first == second and first[0] else None


def ball_text(ball: Any, digits: int) -> str | None:
    """The number in a ball, correctly rounded to so many significant digits, however large or small it is."""
    parts = _parts(ball)
    if _are_moderate(parts):
        lower, upper, below = _ends(parts)
        return _text(lower, below, upper, below, digits)
    if ball.contains(0):
        return None
    power = (abs(ball).log() / arb(10).log()).floor().unique_fmpz()
    if power is None:
        return None
    scaled = ball / arb(10) ** power
    text = decimal_text(*bounds(scaled), digits) if is_moderate(scaled) else None
    return None if text is None or "e" in text else f"{text}e{power}"


def _rounded(over: int, below: int, digits: int) -> tuple[int, int]:
    """A quotient as a whole number of so many digits times a power of ten."""
    if not over:
        return 0, 0
    # in whole numbers throughout: fractions would be reduced at every step
    above = abs(over)
    # an estimate of the decimal exponent from the bit lengths, off by at most one either way
    power = (above.bit_length() - below.bit_length()) * 30103 // 100000
    while not _is_less(above, below, power + 1):
        power += 1
    while _is_less(above, below, power):
        power -= 1
    scale = power - digits + 1
    above, under = (above, below * 10**scale) if scale >= 0 else (above * 10**-scale, below)
    whole, rest = divmod(above, under)
    if 2 * rest > under or (2 * rest == under and whole % 2):
        whole += 1
    if whole == 10**digits:
        whole, scale = whole // 10, scale + 1
    return (-whole if over < 0 else whole), scale


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
