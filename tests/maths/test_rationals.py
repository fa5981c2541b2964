"""Fractions that look up their results reckon as those of the standard library do, which are the source of all checks here."""

from __future__ import annotations

import copy
import math
import operator
import pickle
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qbank.maths.rationals import fraction

_FRACTIONS = st.fractions(max_denominator=12) | st.fractions()
_BINARY: tuple[Callable[[Any, Any], Any], ...] = (
    operator.add,
    operator.sub,
    operator.mul,
    operator.truediv,
    operator.floordiv,
    operator.mod,
    operator.eq,
    operator.lt,
    operator.ge,
)
_UNARY: tuple[Callable[[Any], Any], ...] = (operator.neg, abs, hash, repr, str, bool, int, math.floor, float)


def _ours(value: Fraction) -> Fraction:
    return fraction(value.numerator, value.denominator)


def _outcome(operation: Callable[..., Any], *operands: Any) -> tuple[Any, str]:
    """What comes of it, and its kind; a fraction of ours counts as a fraction."""
    try:
        found = operation(*operands)
    except (ZeroDivisionError, OverflowError) as error:
        return None, type(error).__name__
    return found, "Fraction" if isinstance(found, Fraction) else type(found).__name__


@given(_FRACTIONS, st.integers(-6, 6) | st.sampled_from([Fraction(1, 2), Fraction(3), 0.5, 1j]))
def test_powers_are_those_of_the_library(base: Fraction, exponent: Any) -> None:
    assert _outcome(pow, _ours(base), exponent) == _outcome(pow, base, exponent)


@given(_FRACTIONS, _FRACTIONS | st.integers() | st.sampled_from([0, 0.5, 2.0, 1j]))
def test_operations_give_what_the_library_gives(left: Fraction, right: Any) -> None:
    for operation in _BINARY:
        if isinstance(right, complex) and operation not in _BINARY[:4]:
            continue
        for one, other in ((left, right), (right, left)):
            wanted = _outcome(operation, one, other)
            ours = tuple(_ours(v) if isinstance(v, Fraction) else v for v in (one, other))
            mixed = tuple(_ours(v) if v is left else v for v in (one, other))
            assert _outcome(operation, *ours) == wanted
            assert _outcome(operation, *mixed) == wanted
    for single in _UNARY:
        assert _outcome(single, _ours(left)) == _outcome(single, left)


def test_the_same_number_is_the_same_object() -> None:
    third = fraction(1, 3)
    assert fraction(-2, -6) is third
    assert fraction(2, 3) - third is third
    assert 1 / fraction(3, 1) is third
    assert third * Fraction(1) is third


def test_copies_are_the_same_number() -> None:
    half = fraction(1, 2)
    for copied in (pickle.loads(pickle.dumps(half)), copy.deepcopy(half)):
        assert copied == half
        assert copied + copied == 1


def test_nothing_is_divided_by_zero() -> None:
    with pytest.raises(ZeroDivisionError):
        fraction(1, 2) / 0
