"""Conditions: what they say and how they fail."""

from __future__ import annotations

from fractions import Fraction

import pytest

from qbank.bank.conditions import ConditionError, parse_condition
from qbank.maths.expression import Expression
from qbank.maths.reading import read


def reader(text: str) -> Expression:
    return read(text).tree


def holds(text: str, **values: Fraction | int) -> bool:
    return parse_condition(text, reader).holds({name: Fraction(v) for name, v in values.items()})


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("a != b", True),
        ("a ≠ 2", False),
        ("a = 2", True),
        ("a == 2", True),
        ("a < b", True),
        ("a > b", False),
        ("a <= 2", True),
        ("a ≥ 3", False),
        ("a^2 - 4b < 0", True),
        ("coprime(a, b)", True),
        ("coprime(2a, 2)", False),
        ("coprime(a/3, b)", False),
        ("integer(b/a)", False),
        ("not integer(b/a)", True),
        ("integer(2 b/a)", True),
        ("square(a + 2)", True),
        ("square((a + 2)/9)", True),
        ("square(0 - a)", False),
        ("not square(b)", True),
        ("distinct(a, b, a + 1)", False),
        ("distinct(a, b, (a + b)^2)", True),
        ("sqrt(a + 2) = 2", True),
        # a side without a rational value: the condition does not hold, in either sense
        ("sqrt(a) > 1", False),
        ("1/(a - 2) > 0", False),
        ("not square(1/(a - 2))", False),
        ("|0 - a| = 2", True),
    ],
)
def test_at_two_and_three(text: str, wanted: object) -> None:
    assert holds(text, a=2, b=3) is wanted


@pytest.mark.parametrize("text", ["a", "a < b < 4", "", "prime(a)", "a + b"])
def test_not_understood(text: str) -> None:
    with pytest.raises(ConditionError, match="compares two expressions"):
        parse_condition(text, reader)
