"""The lines of a division of polynomials: whole part and remainder, and the whole part integrated."""

from __future__ import annotations

from qbank.maths.expression import Quotient, Sum, product, sum_of
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.quadratics.over_quadratic import (
    Board,
    Coefficients,
    OverQuadratic,
    antiderivative_terms,
)

__all__ = ["division_lines"]


def division_lines(
    board: Board, start: OverQuadratic, whole: Coefficients, left: OverQuadratic | None
) -> None:
    """Write the lines of a division; the integral of the whole part heads every line from then on.

    Args:
        board: where the lines go.
        start: the fraction before the division.
        whole: the whole part, the number in front included.
        left: the fraction after it, None when nothing is left.
    """
    quotient = polynomial_tree(tuple(c / start.front for c in whole), start.letter)
    done = tuple(antiderivative_terms(whole, start.letter))
    if len(whole) == 1:
        multiple = scaled(whole[0] / start.front, start.under_tree)
    else:
        multiple = product(quotient, start.under_tree)
    if left is None:
        board.aside(start.over_tree, multiple, "divide", say("The division leaves no remainder."))
        board.line("divide", say("Put this in and cancel."), board.integral(start.front, quotient))
        board.line("power-rule", say("Integrate term by term."), *done)
        return
    size = left.front / start.front
    said = say("Divide term by term.")
    if start.under_tree != start.letter:
        said = say("Write the fraction as a whole part and a remainder.")
        board.aside(
            start.over_tree,
            Sum((multiple, scaled(size, left.over_tree))),
            "divide",
            say("The numerator is of the same degree or a higher one: divide first."),
        )
    split = sum_of(quotient, scaled(size, Quotient(left.over_tree, left.under_tree)))
    board.line("divide", said, board.integral(start.front, split))
    board.finished(*done)
    board.line("power-rule", say("Integrate the whole part."), left.integral)
