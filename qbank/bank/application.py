"""What a template says of an application: what is wanted of which curves, and how the question is dressed."""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.expression import Expression
from qbank.techniques.applications.asked import Kind

__all__ = ["LENGTHS", "TIMES", "Application"]

#: units of length, as an author writes them
LENGTHS = ("millimetres", "centimetres", "metres", "kilometres")
#: units of time
TIMES = ("seconds", "minutes", "hours")


@dataclass(frozen=True, slots=True, kw_only=True)
class Application:
    """The field `application` of a template.

    Attributes:
        kind: what is wanted.
        curves: one function of the variable, or two for the region between them.
        limits: the two ends; None for where the curves meet.
        unit: the unit of length, or of the values of which the mean is wanted; empty for none.
        time: the unit of time of a velocity; empty for none.
        setting: a sentence or two of the author's own before the question; may be empty.
    """

    kind: Kind
    curves: tuple[Expression, ...]
    limits: tuple[Expression, Expression] | None = None
    unit: str = ""
    time: str = ""
    setting: str = ""

    @property
    def integrand(self) -> Expression:
        """What tells two questions of a template apart: the curve, or the difference of the two."""
        first, *others = self.curves
        return first - others[0] if others else first
