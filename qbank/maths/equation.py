"""An equation, and what a line of mathematics can be: an expression or an equation."""

from __future__ import annotations

from typing import TypeAlias

from qbank.maths.expression import Expression
from qbank.maths.frozen import frozen

__all__ = ["Equation", "Statement", "sides"]


@frozen
class Equation:
    """`left = right`, as written."""

    left: Expression
    right: Expression


Statement: TypeAlias = Expression | Equation


def sides(statement: Statement) -> tuple[Expression, ...]:
    """The two sides of an equation, or the expression alone."""
    return (statement.left, statement.right) if isinstance(statement, Equation) else (statement,)
