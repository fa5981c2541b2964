"""An exact number as the spellings that are accepted for it, where a format compares texts.

Listed are the fraction, in lowest terms and with common factors up to twelve; the decimal, where there is one, without the
0 before its sign and with more zeros; and of each both minus signs, blanks around the line of a fraction, and the comma
for the point where the school writes one. Every spelling is the number itself; what is lost is any other one.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

__all__ = ["exact_spellings"]

#: by which a fraction may be expanded, and a whole number
_EXPANDED, _WHOLE = 12, 4
#: zeros that may follow a decimal
_ZEROS = 2
#: places after which a decimal is too long to be typed
_PLACES = 9
_MINUS = "\u2212"


def exact_spellings(value: Fraction, decimal: str, *, around: bool = False) -> tuple[str, ...]:
    """The spellings, the usual one first.

    Args:
        value: the number.
        decimal: the decimal sign of the school.
        around: whether those with a blank before or behind are listed too, for systems that leave it there. One that takes it
            away would find a spelling twice, which must not count twice.

    >>> exact_spellings(Fraction(1, 4), ".")[:3], "0.25" in exact_spellings(Fraction(1, 4), ".")
    (('1/4', '1 / 4', '2/8'), True)
    """
    size = abs(value)
    texts = dict.fromkeys((*_fractions(size), *_decimals(size, decimal)))
    signs = ("-", _MINUS, "- ", f"{_MINUS} ") if value < 0 else ("",)
    found = tuple(sign + text for sign in signs for text in texts)
    if not around:
        return found
    return (*found, *(one for text in found if " " not in text for one in (f"{text} ", f" {text}")))


def _fractions(size: Fraction) -> Iterator[str]:
    if size.denominator == 1:
        yield str(size)
    for factor in range(1, (_WHOLE if size.denominator == 1 else _EXPANDED) + 1):
        over, under = size.numerator * factor, size.denominator * factor
        yield f"{over}/{under}"
        yield f"{over} / {under}"


def _decimals(size: Fraction, decimal: str) -> Iterator[str]:
    places = next((p for p in range(_PLACES) if (size * 10**p).denominator == 1), None)
    if places is None:
        return
    whole, behind = divmod(int(size * 10**places), 10**places)
    digits = f"{behind:0{places}d}" if places else ""
    for zeros in range(_ZEROS + 1):
        more = digits + "0" * zeros
        for point in dict.fromkeys((decimal, ".")):
            if more:
                yield f"{whole}{point}{more}"
                if not whole:
                    yield f"{point}{more}"
