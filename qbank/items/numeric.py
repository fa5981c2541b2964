"""The response form "a number": the value rounded, what is accepted, and the wrong values that are recognised."""

from __future__ import annotations

from collections.abc import Iterable

from qbank.items import wording
from qbank.items.distractors import Candidate
from qbank.items.item import Numeric, NumericSlip
from qbank.items.rounding import Rounded, overlap, round_between
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression

__all__ = ["BORDERLINE", "ZERO", "NumberRefused", "numeric", "numeric_slip"]

#: why a value cannot be asked for as a number
ZERO = "the value is zero, which has no significant figures"
BORDERLINE = "the value lies on the border of rounding"

_DIGITS = 20


class NumberRefused(Exception):  # noqa: N818 - a refusal is an answer, not an error
    """The value makes no good question; the text says why."""


def numeric(value: Expression, candidates: Iterable[Candidate], figures: int) -> Numeric:
    """The response to a question whose answer is a number.

    Args:
        value: the exact value.
        candidates: wrong values; one whose bounds meet those of the value or of a candidate before it is left out.
        figures: significant figures asked for.

    Raises:
        NumberRefused: the value is zero or on the border of rounding.

    >>> from qbank.maths.expression import PI
    >>> numeric(PI, (), 3).decimal
    '3.14'
    """
    rounded = _rounded(value, figures)
    if rounded is None:
        raise NumberRefused(ZERO)
    if rounded.borderline:
        raise NumberRefused(BORDERLINE)
    taken, slips = [rounded], []
    for candidate in candidates:
        wrong = _rounded(candidate.answer, figures)
        if wrong is None or any(overlap(wrong, other) for other in taken):
            continue
        taken.append(wrong)
        slips.append(numeric_slip(candidate, wrong))
    return Numeric(
        value=value,
        decimal=rounded.text,
        figures=figures,
        lower=rounded.lower,
        upper=rounded.upper,
        slips=tuple(slips),
    )


def numeric_slip(candidate: Candidate, rounded: Rounded) -> NumericSlip:
    """A wrong value with the bounds in which it is recognised."""
    return NumericSlip(
        slip=candidate.slip,
        value=candidate.answer,
        lower=rounded.lower,
        upper=rounded.upper,
        feedback=wording.slip_feedback(candidate.sentence),
    )


def _rounded(value: Expression, figures: int) -> Rounded | None:
    bounds = enclose(value, at={}, digits=_DIGITS)
    return None if bounds is None else round_between(bounds.lower, bounds.upper, figures)
