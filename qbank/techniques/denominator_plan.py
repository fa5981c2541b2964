"""The numbers of a working with a polynomial over a quadratic: which way it goes, and with what.

sign taken out -> whole part divided off -> rational roots?  two fractions, or powers of a bracket
none?            logarithm, and inverse tangent (or log of a ratio)
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TypeAlias

from qbank.maths.expression import Expression, Symbol
from qbank.maths.polynomial import polynomial_tree
from qbank.techniques.completed_denominator import CompletedPlan, completed_plan
from qbank.techniques.over_quadratic import OverQuadratic, divided, over_quadratic
from qbank.techniques.real_roots import DoubleRootPlan, TwoRootsPlan, real_root_plan

__all__ = ["Plan", "plan_of", "with_positive_square"]

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
    whole, left = divided(with_positive_square(seen))
    if left is None:
        return None
    completed = completed_plan(left, whole)
    if completed is not None and not completed.rest:
        return completed
    return real_root_plan(left, whole) or completed


def with_positive_square(seen: OverQuadratic) -> OverQuadratic:
    """The same with a positive leading coefficient below the line."""
    if seen.under[2] > 0:
        return seen
    under = tuple(-c for c in seen.under)
    return replace(seen, front=-seen.front, under=under, under_tree=polynomial_tree(under, seen.letter))
