"""A polynomial over a quadratic: divide, split the numerator, complete the square or factorise.

integrand -> sign taken out -> whole part divided off -> rational roots?  two fractions, or powers of a bracket
none?            logarithm, and inverse tangent (or log)
"""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.expression import Expression, Integer, Integral, Quotient, Sum, Symbol, product, sum_of
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.tidying import scaled
from qbank.techniques.completed_denominator import CompletedPlan, completed_lines
from qbank.techniques.denominator_plan import Plan, plan_of, with_positive_square
from qbank.techniques.denominator_slips import SLIPS
from qbank.techniques.over_quadratic import Board, OverQuadratic, over_quadratic
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "quadratic-denominator"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    seen = over_quadratic(integrand, variable, Fraction(1))
    plan = plan_of(integrand, variable)
    if seen is None or plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    board = Board(working, variable, Integral(integrand, variable))
    positive = with_positive_square(seen)
    if positive != seen:
        board.line(
            "take-out-sign", "Take the minus sign out, so that the square is positive.", positive.integral
        )
    if plan.whole:
        _divide(board, plan, positive)
    if isinstance(plan, CompletedPlan):
        completed_lines(board, plan)
    else:
        plan.lines(board)
    return working.finish()


def _divide(board: Board, plan: Plan, before: OverQuadratic) -> None:
    """Write the lines of the division."""
    left = plan.seen
    size = left.front / before.front
    whole = polynomial_tree(tuple(c / before.front for c in plan.whole), left.letter)
    multiple = left.under_tree if whole == Integer(1) else product(whole, left.under_tree)
    board.aside(
        before.over_tree,
        Sum((multiple, scaled(size, left.over_tree))),
        "divide",
        "The numerator is not of lower degree than the denominator, so divide first.",
    )
    split = sum_of(whole, scaled(size, Quotient(left.over_tree, left.under_tree)))
    board.line(
        "divide", "Write the fraction as a whole part and a remainder.", board.integral(before.front, split)
    )
    board.finished(*plan.whole_terms())
    board.line("power-rule", "Integrate the whole part.", left.integral)


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Fractions with a quadratic below the line",
    work=_work,
    slips=SLIPS,
)
