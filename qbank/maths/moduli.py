"""A function between its zeros, where its modulus is itself or its negative, with the proof.

The zeros are those of `qbank.maths.crossings`, none left out; between two of them a continuous function keeps its sign,
which a rigorous value tells. On a half line or the whole line this is done for polynomials.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from qbank.maths.covering import defined_between
from qbank.maths.crossings import Signs, ZerosUnknown, real_zeros, signs_between
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression, Symbol, fraction
from qbank.maths.limiting import INFINITE
from qbank.maths.polynomial import as_polynomial
from qbank.maths.verdict import SEAL, Proof

__all__ = ["Split", "split_at_zeros"]

#: how far within an end, as a part of the interval, a function has to be defined
_WITHIN = Fraction(1, 10**6)
_DIGITS = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """Where a function changes its sign.

    Attributes:
        places: the zeros at which it does, in order, strictly between the ends.
        signs: 1 or -1 on each stretch, one more than there are places.
        proof: that its modulus is itself or its negative, as the signs say.
    """

    places: tuple[Expression, ...]
    signs: tuple[int, ...]
    proof: Proof


def split_at_zeros(tree: Expression, variable: Symbol, lower: Expression, upper: Expression) -> Split | None:
    """Split an interval where a function changes its sign.

    Args:
        tree: a function of the variable alone.
        variable: the letter.
        lower: the smaller end, a constant or minus infinity.
        upper: the larger end, a constant or infinity.

    Returns:
        None where the function is not certain to be continuous, or its zeros are not all known.

    >>> from qbank.maths.expression import Integer
    >>> x = Symbol("x")
    >>> split = split_at_zeros(x - 2, x, Integer(0), Integer(3))
    >>> split.places, split.signs
    ((Integer(value=2),), (-1, 1))
    """
    try:
        endless = lower in INFINITE or upper in INFINITE
        found = (_on_a_half_line if endless else _between)(tree, variable, lower, upper)
    except ZerosUnknown:
        return None
    if found is None:
        return None
    merged = found.merged()
    claim = "between its zeros the modulus of the function is the function or its negative"
    proof = Proof(claim=claim, method="all zeros known", seal=SEAL)
    return Split(places=merged.places, signs=merged.signs, proof=proof)


def _between(tree: Expression, variable: Symbol, lower: Expression, upper: Expression) -> Signs | None:
    ends = [enclose(end, at={}, digits=_DIGITS) for end in (lower, upper)]
    if ends[0] is None or ends[1] is None:
        return None
    margin = (ends[1].lower - ends[0].upper) * _WITHIN
    if margin <= 0 or not defined_between(tree, variable, ends[0].upper + margin, ends[1].lower - margin):
        return None
    return signs_between(tree, variable, lower, upper)


def _on_a_half_line(tree: Expression, variable: Symbol, lower: Expression, upper: Expression) -> Signs | None:
    """The signs of a polynomial, told at a number in each stretch."""
    if as_polynomial(tree, variable) is None:
        return None
    zeros = [(zero, _place(zero)) for zero in real_zeros(tree, variable)]
    low = None if lower in INFINITE else _place(lower)
    high = None if upper in INFINITE else _place(upper)
    inside = [(zero, at) for zero, at in zeros if (low is None or at > low) and (high is None or at < high)]
    signs: list[int] = []
    for number in _numbers([low, *(at for _, at in inside), high]):
        value = enclose(tree, at={variable: number})
        if value is None or value.lower <= 0 <= value.upper:
            return None
        signs.append(1 if value.lower > 0 else -1)
    return Signs(places=tuple(zero for zero, _ in inside), signs=tuple(signs))


def _place(tree: Expression) -> Fraction:
    bounds = enclose(tree, at={}, digits=_DIGITS)
    if bounds is None:
        raise ZerosUnknown("a place is not a number")
    return (bounds.lower + bounds.upper) / 2


def _numbers(cuts: list[Fraction | None]) -> Iterator[Fraction]:
    """A number in each stretch."""
    for low, high in pairwise(cuts):
        if low is None:
            yield fraction(0, 1) if high is None else high - 1
        else:
            yield low + 1 if high is None else (low + high) / 2
