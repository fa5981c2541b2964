"""The numbers of a working with a polynomial over a quadratic: which way it goes, and with what.

sign taken out -> whole part divided off -> rational roots?  two fractions, or powers of a bracket
none?            logarithm, and inverse tangent (or log of a ratio)
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TypeAlias

from qbank.maths.expression import Expression, Symbol, fraction
from qbank.maths.polynomial import polynomial_tree
from qbank.techniques.quadratics.completed_denominator import CompletedPlan, completed_plan
from qbank.techniques.quadratics.divided_only import DividedPlan
from qbank.techniques.quadratics.over_quadratic import Coefficients, OverQuadratic, over_quadratic
from qbank.techniques.quadratics.polynomial_division import cancelled, divided
from qbank.techniques.quadratics.real_roots import DoubleRootPlan, TwoRootsPlan, real_root_plan

__all__ = ["Plan", "plan_of", "start_of"]

Plan: TypeAlias = CompletedPlan | TwoRootsPlan | DoubleRootPlan | DividedPlan


#: a solution's slips ask for its plan one after the other
@lru_cache(maxsize=16)
def plan_of(integrand: Expression, variable: Symbol) -> Plan | None:
    """The numbers of an integrand of this kind, else None.

    >>> x = Symbol("x")
    >>> plan_of((x + 3) / (x**2 + 2 * x + 5), x).multiple
    Fraction(1, 2)
    """
    seen = over_quadratic(integrand, variable, fraction(1, 1))
    if seen is None:
        return None
    start = start_of(seen)
    whole, left = divided(start)
    if left is None:
        return DividedPlan(seen=start, left=None, whole=whole, log=fraction(0, 1))
    if len(left.under) == 2:
        # a number over a linear expression, written so, is a standard form
        return _over_a_line(start, left, whole) if whole or start != seen else None
    if len(left.under) > 3:
        return None
    completed = completed_plan(left, whole)
    if completed is not None and not completed.rest:
        return completed
    return real_root_plan(left, whole) or completed


def start_of(seen: OverQuadratic) -> OverQuadratic:
    """The same with anything common cancelled (below the line a quadratic is factorised anyway) and a positive square."""
    if len(seen.under) > 3:
        seen = cancelled(seen)
    if len(seen.under) != 3 or seen.under[2] > 0:
        return seen
    under = tuple(-c for c in seen.under)
    return replace(seen, front=-seen.front, under=under, under_tree=polynomial_tree(under, seen.letter))


def _over_a_line(start: OverQuadratic, left: OverQuadratic, whole: Coefficients) -> DividedPlan:
    return DividedPlan(seen=start, left=left, whole=whole, log=left.front / left.under[1])
