"""Conditions on a draw: comparisons of parameter expressions, and a few named properties.

a != b      a^2 - 4b < 0      2a >= b
coprime(a, b)      integer(a/b)      square(a^2 - b)      not square(a^2 - b)      distinct(a, b, c)
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import gcd, isqrt

from qbank.bank.arithmetic import NotRationalError, evaluate
from qbank.maths.expression import Expression

__all__ = ["COMPARISONS", "PROPERTIES", "Condition", "ConditionError", "parse_condition"]

COMPARISONS: dict[str, Callable[[Fraction, Fraction], bool]] = {
    "!=": lambda a, b: a != b,
    "<=": lambda a, b: a <= b,
    ">=": lambda a, b: a >= b,
    "=": lambda a, b: a == b,
    "<": lambda a, b: a < b,
    ">": lambda a, b: a > b,
}


def _is_square(value: Fraction) -> bool:
    return value >= 0 and all(isqrt(n) ** 2 == n for n in (value.numerator, value.denominator))


def _coprime(*values: Fraction) -> bool:
    return all(v.denominator == 1 for v in values) and gcd(*(v.numerator for v in values)) == 1


PROPERTIES: dict[str, Callable[..., bool]] = {
    "coprime": _coprime,
    "distinct": lambda *values: all(a != b for a, b in pairwise(sorted(values))),
    "integer": lambda *values: all(v.denominator == 1 for v in values),
    "square": lambda *values: all(_is_square(v) for v in values),
}

_COMPARISON = re.compile(r"!=|≠|<=|≤|>=|≥|==|=|<|>")
_SPELLINGS = {"≠": "!=", "≤": "<=", "≥": ">=", "==": "="}
_PROPERTY = re.compile(r"\s*(not\s+)?([a-z]+)\s*\((.*)\)\s*$", re.DOTALL)


class ConditionError(ValueError):
    """A condition that cannot be understood; the text says why and what to write instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """A condition that can be asked of drawn values.

    Attributes:
        text: as the author wrote it.
        relation: a key of `COMPARISONS` or of `PROPERTIES`.
        sides: the expressions compared, or the property's arguments.
        negated: whether a property must not hold.
    """

    text: str
    relation: str
    sides: tuple[Expression, ...]
    negated: bool = False

    def holds(self, values: Mapping[str, Fraction]) -> bool:
        """Whether the condition holds; where a side has no rational value it does not."""
        try:
            sides = [evaluate(side, values) for side in self.sides]
        except NotRationalError:
            return False
        test = COMPARISONS.get(self.relation) or PROPERTIES[self.relation]
        return test(*sides) is not self.negated


def parse_condition(text: str, read: Callable[[str], Expression]) -> Condition:
    """Understand a condition.

    Args:
        text: as in the module's examples.
        read: the reader of mathematics, which knows the parameters' names.

    Raises:
        ConditionError: the text is no condition.
        Exception: whatever `read` raises on a side that it cannot read.
    """
    named = _PROPERTY.match(text)
    if named and named[2] in PROPERTIES:
        sides = tuple(read(part) for part in _arguments(named[3]))
        return Condition(text=text, relation=named[2], sides=sides, negated=bool(named[1]))
    found = _COMPARISON.findall(text)
    if len(found) != 1:
        raise ConditionError(
            "a condition compares two expressions with one of != < <= > >= =, or is one of "
            + ", ".join(f"{name}(...)" for name in PROPERTIES)
        )
    left, right = _COMPARISON.split(text)
    return Condition(text=text, relation=_SPELLINGS.get(found[0], found[0]), sides=(read(left), read(right)))


def _arguments(text: str) -> list[str]:
    """Split at the commas that are not inside brackets."""
    parts, depth = [""], 0
    for character in text:
        depth += (character in "([") - (character in ")]")
        if character == "," and depth == 0:
            parts.append("")
        else:
            parts[-1] += character
    return parts
