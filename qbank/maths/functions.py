"""The functions of one real variable that the language knows: one row each.

Reading, notation and the number systems each hold a table of their own, keyed by these names; tests
insist that every row here has a row there. A new function starts with a row in this file.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["FUNCTIONS", "Family", "Function"]

Family = Literal["circular", "inverse circular", "hyperbolic", "inverse hyperbolic", "exponential", "other"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Function:
    """One named function.

    Attributes:
        name: the name used in expression trees, the British school's word (`cosec`, `arsinh`).
        family: which group of functions it belongs to.
        inverse_of: for an inverse function, the function it undoes (on the principal branch).
    """

    name: str
    family: Family
    inverse_of: str | None = None


_CIRCULAR = ("sin", "cos", "tan", "sec", "cosec", "cot")
_HYPERBOLIC = ("sinh", "cosh", "tanh", "sech", "cosech", "coth")

FUNCTIONS: dict[str, Function] = {
    row.name: row
    for row in (
        *(Function(name=name, family="circular") for name in _CIRCULAR),
        *(Function(name=f"arc{name}", family="inverse circular", inverse_of=name) for name in _CIRCULAR),
        *(Function(name=name, family="hyperbolic") for name in _HYPERBOLIC),
        *(Function(name=f"ar{name}", family="inverse hyperbolic", inverse_of=name) for name in _HYPERBOLIC),
        Function(name="exp", family="exponential"),
        Function(name="ln", family="exponential", inverse_of="exp"),
        Function(name="abs", family="other"),
    )
}
