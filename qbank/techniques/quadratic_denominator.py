"""A polynomial over a quadratic: divide, split the numerator, complete the square or factorise.

integrand -> sign taken out -> whole part divided off -> rational roots?  two fractions, or powers of a bracket
none?            logarithm, and inverse tangent (or log)
"""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.expression import Expression, Integral, Quotient, Sum, Symbol, product, sum_of
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.tidying import scaled
from qbank.techniques.completed_denominator import CompletedPlan, completed_lines
from qbank.techniques.denominator_plan import Plan, plan_of, start_of
from qbank.techniques.denominator_slips import SLIPS
from qbank.techniques.divided_only import DividedPlan
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
    start = start_of(seen)
    if start != seen:
        _prepare(board, seen, start)
    if plan.whole:
        left = plan.left if isinstance(plan, DividedPlan) else plan.seen
        _divide(board, plan, start, left)
    if isinstance(plan, CompletedPlan):
        completed_lines(board, plan)
    else:
        plan.lines(board)
    return working.finish()


def _prepare(board: Board, seen: OverQuadratic, start: OverQuadratic) -> None:
    if len(start.under) < len(seen.under):
        board.line("cancel", "Cancel the common factor.", start.integral)
    else:
        board.line(
            "take-out-sign", "Take the minus sign out, so that the square is positive.", start.integral
        )


def _divide(board: Board, plan: Plan, start: OverQuadratic, left: OverQuadratic | None) -> None:
    """Write the lines of the division."""
    whole = polynomial_tree(tuple(c / start.front for c in plan.whole), start.letter)
    if len(plan.whole) == 1:
        multiple = scaled(plan.whole[0] / start.front, start.under_tree)
    else:
        multiple = product(whole, start.under_tree)
    if left is None:
        board.aside(start.over_tree, multiple, "divide", "The division leaves no remainder.")
        board.line("divide", "Put this in and cancel.", board.integral(start.front, whole))
        board.line("power-rule", "Integrate term by term.", *plan.whole_terms())
        return
    size = left.front / start.front
    said = "Divide term by term."
    if start.under_tree != start.letter:
        said = "Write the fraction as a whole part and a remainder."
        board.aside(
            start.over_tree,
            Sum((multiple, scaled(size, left.over_tree))),
            "divide",
            "The numerator is of the same degree or a higher one: divide first.",
        )
    split = sum_of(whole, scaled(size, Quotient(left.over_tree, left.under_tree)))
    board.line("divide", said, board.integral(start.front, split))
    board.finished(*plan.whole_terms())
    board.line("power-rule", "Integrate the whole part.", left.integral)


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Fractions: divide, split, complete the square",
    work=_work,
    slips=SLIPS,
)
