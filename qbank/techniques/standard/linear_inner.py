"""What stands inside a standard form: a linear expression, its slope any constant: `3x + 1`, `pi x/4`, `b - a x`."""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.constant_factor import ONE
from qbank.maths.deciding import decide_equal
from qbank.maths.derivative import derivative
from qbank.maths.expression import (
    Expression,
    Integer,
    Negate,
    Product,
    Quotient,
    Sum,
    Symbol,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.verdict import Refuted

__all__ = ["Inner", "as_inner", "is_linear_by_looks", "is_zero"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Inner:
    """A linear expression in the variable.

    Attributes:
        tree: as it was written.
        variable: the letter.
        slope: its derivative, a constant that is not zero.
    """

    tree: Expression
    variable: Symbol
    slope: Factored

    @property
    def plain(self) -> bool:
        """Whether nothing needs to be divided by: the slope is 1."""
        return self.slope == ONE


def as_inner(tree: Expression, variable: Symbol) -> Inner | None:
    """The tree as a linear expression, else None.

    >>> x = Symbol("x")
    >>> as_inner(3 * x + 1, x).slope.coefficient
    Fraction(3, 1)
    >>> as_inner(x * x, x) is None
    True
    """
    if tree == variable:
        return Inner(tree=tree, variable=variable, slope=ONE)
    if not is_linear_by_looks(tree, variable):
        return None
    slope = factored(derivative(tree, variable))
    if not slope.coefficient or any(is_zero(base, variable) for base, _ in slope.powers):
        return None
    return Inner(tree=tree, variable=variable, slope=slope)


def is_zero(constant: Expression, variable: Symbol) -> bool:
    """Whether a constant is 0, or might be, as `a - a` is; it is not divided by then."""
    if constant == Integer(0):
        return True
    if not constant.holds(Sum):
        return False
    return not isinstance(decide_equal(constant, Integer(0), variable), Refuted)


def is_linear_by_looks(tree: Expression, variable: Symbol) -> bool:
    """Whether it is written as a linear expression: its slope is a constant, which may be 0.

    >>> x = Symbol("x")
    >>> is_linear_by_looks((3 - x) / 2, x), is_linear_by_looks((x + 1) ** 2, x)
    (True, False)
    """
    if variable not in tree.symbols():
        return False
    match tree:
        case Symbol():
            return True
        case Sum(terms):
            return all(is_linear_by_looks(t, variable) for t in terms if variable in t.symbols())
        case Negate(operand):
            return is_linear_by_looks(operand, variable)
        case Product(factors):
            moving = [f for f in factors if variable in f.symbols()]
            return len(moving) == 1 and is_linear_by_looks(moving[0], variable)
        case Quotient(numerator, denominator):
            return variable not in denominator.symbols() and is_linear_by_looks(numerator, variable)
        case _:
            return False
