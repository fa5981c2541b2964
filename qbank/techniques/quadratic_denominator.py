"""A polynomial over a quadratic: divide, split the numerator, complete the square or factorise.

integrand -> sign taken out -> whole part divided off -> rational roots?  two fractions, or powers of a bracket
none?            logarithm, and inverse tangent (or log)
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TypeAlias

from qbank.maths.expression import Expression, Integer, Integral, Quotient, Sum, Symbol, product, sum_of
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.tidying import scaled
from qbank.techniques.completed_denominator import CompletedPlan, completed_lines, completed_plan
from qbank.techniques.over_quadratic import Board, OverQuadratic, divided, over_quadratic
from qbank.techniques.real_roots import DoubleRootPlan, TwoRootsPlan, real_root_plan
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE", "Plan", "plan_of"]

_IDENTIFIER = "quadratic-denominator"

Plan: TypeAlias = CompletedPlan | TwoRootsPlan | DoubleRootPlan


def plan_of(integrand: Expression, variable: Symbol) -> Plan | None:
    """The numbers of an integrand of this kind, else None.

    >>> x = Symbol("x")
    >>> plan_of((x + 3) / (x**2 + 2 * x + 5), x).multiple
    Fraction(1, 2)
    """
    seen = over_quadratic(integrand, variable, Fraction(1))
    if seen is None:
        return None
    whole, left = divided(_positive(seen))
    if left is None:
        return None
    completed = completed_plan(left, whole)
    if completed is not None and not completed.rest:
        return completed
    return real_root_plan(left, whole) or completed


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    seen = over_quadratic(integrand, variable, Fraction(1))
    plan = plan_of(integrand, variable)
    if seen is None or plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    board = Board(working, variable, Integral(integrand, variable))
    positive = _positive(seen)
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


def _positive(seen: OverQuadratic) -> OverQuadratic:
    """The same with a positive leading coefficient below the line."""
    if seen.under[2] > 0:
        return seen
    under = tuple(-c for c in seen.under)
    return replace(seen, front=-seen.front, under=under, under_tree=polynomial_tree(under, seen.letter))


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
    slips=(),
)
