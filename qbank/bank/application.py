"""What a template says of an application: what is wanted of which curves, and how the question is dressed."""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.derivative import derivative
from qbank.maths.expression import PI, Apply, Expression, Integer, Symbol, sqrt
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

    def integrand(self, variable: Symbol) -> Expression:
        """What tells questions apart, those of other kinds too: what is integrated, before anything is worked out."""
        first, *others = self.curves
        second = others[0] if others else Integer(0)
        match self.kind:
            case "area":
                return first - second if others else first
            case "volume":
                return PI * (first**2 - second**2)
            case "arc-length":
                return sqrt(1 + derivative(first, variable) ** 2)
            case "mean-value":
                return first if self.limits is None else first / (self.limits[1] - self.limits[0])
            case "distance":
                return Apply("abs", first)
            case "displacement":
                return first
