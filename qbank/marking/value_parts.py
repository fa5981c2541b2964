r"""What students write around a value: a unit, the accuracy, several forms of it in one line.

    2 square units      1/3 cm²         the value, and a unit that is not marked
    1.099 (3 d.p.)      0.3333...       the value
    ln 3 ≈ 1.0986       [x^2]_0^1 = 1   its forms, each of which has to be right; left sides that are no values are left out

Which units and words there are is common practice.
"""

from __future__ import annotations

import re
from typing import NamedTuple

__all__ = ["ValueParts", "value_parts"]

_POWER = r"(?:\s?(?:\^\s?\{?[23]\}?|[²³]))"
_UNIT = re.compile(
    rf"""(?:
    (?<![A-Za-z])(?:(?:sq(?:uare)?|cu(?:bic)?)\.?\s?)?units?(?:\s?squared|\s?cubed|{_POWER})?
  | (?<![A-Za-z])(?:LE|FE|VE|[mcdk]m|kg|sec|seconds?|min|minutes?|hours?|met(?:re|er)s?){_POWER}?
  | (?<![A-Za-z])[um]{_POWER} | (?<=\s)[umsh]
  | (?<![A-Za-z])(?:[mcdk]?m)\s?/\s?(?:s|min|h){_POWER}?
    )[\s.]{{0,9}}$""",
    re.VERBOSE,
)
_ACCURACY = re.compile(
    r"""[,(]?\s?(?:correct\s|rounded\s)?(?:to\s)?[1-9]\s?
    (?:d\.?\s?p\.?|s\.?\s?f\.?|sig\.?\s?figs?\.?|decimal\splaces?|significant\sfigures?)\s?\)?\s{0,9}$""",
    re.VERBOSE | re.IGNORECASE,
)
_GOES_ON = re.compile(r"(?<=[0-9])(?:\.{2,3}|…)\s{0,9}$")
_BETWEEN = re.compile(r"=|≈|≃|≅|\\(?:approx|simeq|cong)(?![A-Za-z])")
#: a name, an integral, or an antiderivative between limits
_NO_VALUE = re.compile(
    r"\s{0,9}(?:[A-Za-z](?:\([a-z]\))?\s{0,9}$|∫|\\int(?![A-Za-z])|int\b|\[[^\[\]]{1,200}\]\s?_)"
)
#: forms in one line
_MOST = 8


class ValueParts(NamedTuple):
    """The forms of a value in a response.

    Attributes:
        forms: each by itself, as it was typed.
        has_unit: whether a unit was left out.
    """

    forms: tuple[str, ...]
    has_unit: bool


def value_parts(response: str) -> ValueParts:
    """What is written around the value, taken off.

    >>> value_parts("2 square units")
    ValueParts(forms=('2',), has_unit=True)
    >>> value_parts("[x^2]_0^1 = 1 - 0 = 1.00 (3 s.f.)").forms
    ('1 - 0', '1.00')
    """
    forms: list[str] = []
    has_unit = False
    for part in _BETWEEN.split(response):
        if _NO_VALUE.match(part):
            continue
        bare = _ACCURACY.sub("", part.rstrip())
        without_unit = _UNIT.sub("", bare)
        has_unit = has_unit or without_unit != bare
        form = _GOES_ON.sub("", _ACCURACY.sub("", without_unit.rstrip())).strip()
        if form:
            forms.append(form)
    return ValueParts(tuple(forms[:_MOST]), has_unit)
