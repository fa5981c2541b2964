"""A worked value as rows for the eye, from the integral to its value."""

from __future__ import annotations

from qbank.techniques.definites.way import WorkedValue
from qbank.techniques.presenting import Row, as_they_stand

__all__ = ["value_rows"]


def value_rows(worked: WorkedValue) -> tuple[Row, ...]:
    """The rows of a worked value; no constant of integration is written anywhere.

    >>> from qbank.maths.expression import Integer, Integral, Negate, Symbol
    >>> from qbank.techniques.definites.choosing import value_of
    >>> x = Symbol("x")
    >>> [row.rule for row in value_rows(value_of(Integral(x**3, x, Negate(Integer(1)), Integer(1))))]
    ['', 'odd', 'odd-symmetry']
    """
    return (Row(kind="start", statements=(worked.integral,)), *as_they_stand(worked.lines))
