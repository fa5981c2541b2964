"""Even, odd or neither; and the half of an interval that is symmetric about 0."""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.deciding import decide_equal, exact_value
from qbank.maths.equation import Equation
from qbank.maths.expression import INFINITY, Expression, Integer, Integral, Negate, Symbol, sum_of
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Proof, Proved
from qbank.techniques.definites.leaf import ends

__all__ = ["Parity", "half_of", "parity_of"]

_NOUGHT = Integer(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Parity:
    """Whether a function is even or odd, with the equation that says so."""

    even: bool
    equation: Equation
    proof: Proof


def half_of(integral: Integral) -> Expression | None:
    """The upper limit of an interval that is symmetric about 0."""
    lower, upper = ends(integral)
    if lower.symbols() | upper.symbols():
        return None
    if upper == INFINITY:
        return upper if lower == Negate(INFINITY) else None
    if lower in (INFINITY, Negate(INFINITY)) or exact_value(sum_of(lower, upper)) != _NOUGHT:
        return None
    return upper if lower != upper else None


def parity_of(tree: Expression, variable: Symbol) -> Parity | None:
    """Whether a function is even or odd, as far as that is proved.

    >>> x = Symbol("x")
    >>> parity_of(x**3, x).even
    False
    """
    mirrored = tree.substitute({variable: Negate(variable)})
    for even, other in ((True, tree), (False, tidy(Negate(tree)))):
        verdict = decide_equal(mirrored, other, variable)
        if isinstance(verdict, Proved) and not verdict.undefined_at:
            return Parity(even=even, equation=Equation(mirrored, other), proof=verdict.proof)
    return None
