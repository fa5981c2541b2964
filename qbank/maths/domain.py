"""An open interval of the real line on which an identity is wanted."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.expression import Expression

__all__ = ["Domain"]


@dataclass(frozen=True, slots=True)
class Domain:
    """The open interval from `lower` to `upper`; None is an end at infinity.

    Attributes:
        lower: the lower end, a fraction or a constant expression such as `-pi/2`.
        upper: the upper end, likewise.
    """

    lower: Fraction | Expression | None = None
    upper: Fraction | Expression | None = None
