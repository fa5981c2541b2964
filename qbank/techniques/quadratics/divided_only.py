"""Fractions that a division finishes: nothing is left over, or a number over a linear expression.

(x^3 - 1)/(x^2 + x + 1)  =  x - 1
(x^2 + 1)/(x + 1)        =  x - 1 + 2/(x + 1)        1/2 x^2 - x + 2 ln|x + 1|
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.expression import Apply, Expression, sum_of
from qbank.maths.tidying import scaled
from qbank.messages import say, together
from qbank.techniques.quadratics.over_quadratic import (
    Board,
    Coefficients,
    OverQuadratic,
    antiderivative_terms,
)

__all__ = ["DividedPlan"]


@dataclass(frozen=True, slots=True, kw_only=True)
class DividedPlan:
    """The numbers of one working.

    Attributes:
        seen: the fraction before the division.
        left: the fraction after it, 1 over a linear expression with a number in front; None when nothing is left.
        whole: the whole part of the division.
        log: the number in front of the logarithm.
    """

    seen: OverQuadratic
    left: OverQuadratic | None
    whole: Coefficients
    log: Fraction

    def answer(self) -> Expression:
        """The antiderivative."""
        return sum_of(*self.whole_terms(), *self.log_terms())

    def whole_terms(self) -> tuple[Expression, ...]:
        """The integral of the whole part."""
        return tuple(antiderivative_terms(self.whole, self.seen.letter))

    def log_terms(self) -> tuple[Expression, ...]:
        """The logarithm, if there is one."""
        if self.left is None or not self.log:
            return ()
        return (scaled(self.log, Apply("ln", Apply("abs", self.left.under_tree))),)

    def lines(self, board: Board) -> None:
        """Write the line after the division."""
        if self.left is not None:
            reason = say("The reciprocal of a linear expression gives a logarithm.")
            if abs(self.left.under[1]) != 1:
                reason = together(reason, say("Divide by the coefficient of the variable."))
            board.line("logarithm", reason, *self.log_terms())
