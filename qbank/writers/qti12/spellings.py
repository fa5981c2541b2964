"""A number as the spellings that are accepted for it, where a format compares texts and knows no bounds.

Listed are the rounded number, the exact one rounded or cut off after up to three figures more, and of each: without the 0
before the decimal sign, with both minus signs, and with a comma for the point where the school writes one. The rounded
number may also lose zeros at its end or have two more. Nothing outside the bounds is ever listed; what is lost is any
other number within them, and powers of ten.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from qbank.items.item import Item, Numeric, NumericSlip

__all__ = ["accepted", "recognised"]

#: how many figures more than asked for are listed
_MORE = 3
#: how many zeros may follow
_ZEROS = 2
_MINUS = "\u2212"


def accepted(item: Item, response: Numeric) -> tuple[str, ...]:
    """Every spelling that scores; the first is the one that is asked for.

    Args:
        item: the item; its enclosure gives the figures beyond those asked for.
        response: the number wanted.
    """
    texts = [*_lengths(response.decimal)]
    if item.enclosure is not None:
        texts += _longer(response, *item.enclosure)
    return _within(texts, response.lower, response.upper, item.conventions.decimal)


def recognised(slip: NumericSlip, decimal: str) -> tuple[str, ...]:
    """The spellings of the number that a slip leads to, rounded like the answer.

    Args:
        slip: the slip; its number is the middle of its bounds.
        decimal: the decimal sign of the school.
    """
    if slip.lower >= slip.upper:
        return ()
    places = _places(slip.upper - slip.lower)
    scale = Fraction(10) ** places
    middle = _nearest((slip.lower + slip.upper) / 2 * scale) / scale
    return _within([*_lengths(_decimal(middle, max(0, places)))], slip.lower, slip.upper, decimal)


def _places(width: Fraction) -> int:
    """How many decimal places keep a rounded number within bounds so far apart; negative for tens and more."""
    places = 0
    while Fraction(1, 10) ** places > width:
        places += 1
    while Fraction(10) ** (1 - places) <= width:
        places -= 1
    return places


def _lengths(text: str) -> Iterator[str]:
    """The same number with fewer or more zeros at its end."""
    yield text
    short = text
    while "." in short and short[-1] in "0.":
        short = short[:-1]
        if short[-1] != ".":
            yield short
    yield from (f"{text}{'' if '.' in text else '.'}{'0' * zeros}" for zeros in range(1, _ZEROS + 1))


def _longer(response: Numeric, lower: Fraction, upper: Fraction) -> Iterator[str]:
    """The exact value rounded, and cut off, after more figures."""
    whole, _, behind = response.decimal.lstrip("-").partition(".")
    # 12000 to 2 figures is settled to thousands
    settled = len(behind) if behind else -max(0, len(whole) - response.figures)
    for places in range(settled + 1, settled + _MORE + 1):
        scale = Fraction(10) ** places
        # an exact value half way between two numbers has an enclosure around it, whose ends round to both
        counts = [_nearest(lower * scale), _nearest(upper * scale)]
        if (cut := int(lower * scale)) == int(upper * scale):
            counts.append(cut)
        yield from (_decimal(count / scale, max(0, places)) for count in counts)


def _nearest(value: Fraction) -> int:
    """Halves away from zero, as school rounds."""
    size = int(abs(value) + Fraction(1, 2))
    return size if value > 0 else -size


def _decimal(value: Fraction, places: int) -> str:
    whole, rest = divmod(int(abs(value) * 10**places), 10**places)
    sign = "-" if value < 0 else ""
    return f"{sign}{whole}.{rest:0{places}d}" if places else f"{sign}{whole}"


def _within(texts: list[str], lower: Fraction, upper: Fraction, decimal: str) -> tuple[str, ...]:
    """The spellings of those numbers that lie within the bounds, each once."""
    found: dict[str, None] = {}
    for text in texts:
        if lower <= Fraction(text) <= upper:
            found |= dict.fromkeys(_written(text, decimal))
    return tuple(found)


def _written(text: str, decimal: str) -> Iterator[str]:
    """One decimal with and without the 0 in front, with each minus sign, and with the comma of the school before its point."""
    sign, digits = ("-", text[1:]) if text.startswith("-") else ("", text)
    bare = [digits, digits[1:]] if digits.startswith("0.") and len(digits) > 2 else [digits]
    for point in dict.fromkeys((decimal, ".")):
        for minus in (sign, _MINUS) if sign else ("",):
            yield from (minus + digits.replace(".", point) for digits in bare)
