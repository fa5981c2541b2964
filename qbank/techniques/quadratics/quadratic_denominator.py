"""A polynomial over a quadratic: divide, split the numerator, complete the square or factorise.

integrand -> sign taken out -> whole part divided off -> rational roots?  two fractions, or powers of a bracket
none?            logarithm, and inverse tangent (or log)
"""

from __future__ import annotations

from qbank.maths.expression import Expression, Integral, Symbol, fraction
from qbank.messages import say
from qbank.techniques.quadratics.completed_denominator import CompletedPlan, completed_lines
from qbank.techniques.quadratics.denominator_plan import plan_of, start_of
from qbank.techniques.quadratics.denominator_slips import SLIPS
from qbank.techniques.quadratics.divided_only import DividedPlan
from qbank.techniques.quadratics.division_lines import division_lines
from qbank.techniques.quadratics.over_quadratic import Board, OverQuadratic, over_quadratic
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "quadratic-denominator"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    seen = over_quadratic(integrand, variable, fraction(1, 1))
    plan = plan_of(integrand, variable)
    if seen is None or plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    board = Board(working, variable, Integral(integrand, variable))
    start = start_of(seen)
    if start != seen:
        _prepare(board, seen, start)
    if plan.whole:
        left = plan.left if isinstance(plan, DividedPlan) else plan.seen
        division_lines(board, start, plan.whole, left)
    if isinstance(plan, CompletedPlan):
        completed_lines(board, plan)
    else:
        plan.lines(board)
    return working.finish()


def _prepare(board: Board, seen: OverQuadratic, start: OverQuadratic) -> None:
    if len(start.under) < len(seen.under):
        board.line("cancel", say("Cancel the common factor."), start.integral)
    else:
        board.line(
            "take-out-sign", say("Take the minus sign out, so that the square is positive."), start.integral
        )


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Fractions: divide, split, complete the square",
    work=_work,
    slips=SLIPS,
)
