"""A constant or linear numerator over the root of a quadratic: complete the square, inverse sine or logarithm.

(x + 3)/sqrt(5 + 4x - x^2)
    x + 3 = -1/2 (4 - 2x) + 5               multiple of the derivative, and a rest
    -sqrt(5 + 4x - x^2)                     from the multiple: twice the root
    5 + 4x - x^2 = 3^2 - (x - 2)^2
    5 arcsin((x - 2)/3)                     from the rest

1/sqrt(k^2 - u^2)     arcsin(u/k)
1/sqrt(u^2 +- k^2)    ln|u + sqrt(u^2 +- k^2)|      arsinh(u/k), arcosh(u/k) up to a constant
"""

from __future__ import annotations

from qbank.maths.expression import (
    Expression,
    Integer,
    Integral,
    Quotient,
    Root,
    Symbol,
    rational,
)
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import square_root
from qbank.messages import say, together
from qbank.techniques.quadratics.over_quadratic import Board, bracket_times, derivative
from qbank.techniques.quadratics.root_plan import RootPlan, plan_of
from qbank.techniques.quadratics.root_slips import SLIPS
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "root-of-quadratic"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = plan_of(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    board = Board(working, variable, Integral(integrand, variable))
    seen = plan.seen
    one_over = Quotient(rational(1), seen.below)
    pending = (board.integral(seen.front * plan.rest, one_over),) if plan.rest else ()
    if plan.root:
        _split_lines(board, plan, pending)
    if plan.rest:
        _square_lines(board, plan)
    return working.finish()


def _split_lines(board: Board, plan: RootPlan, pending: tuple[Expression, ...]) -> None:
    seen = plan.seen
    slope = polynomial_tree(derivative(seen.under), seen.letter)
    multiple = plan.root / (2 * seen.front)
    split = bracket_times(multiple, slope, plan.rest)
    derivative_over = board.integral(seen.front * multiple, Quotient(slope, seen.below))
    if plan.rest:
        said = say(
            "Write the numerator as a multiple of the derivative of what is under the root, and a constant."
        )
    else:
        said = say("The numerator is a multiple of the derivative of what is under the root.")
    board.aside(seen.over_tree, split, "split-numerator", said)
    next_said = say("Split into two integrals.") if plan.rest else say("Put this in for the numerator.")
    board.line("split-numerator", next_said, derivative_over, *pending)
    board.finished(*plan.root_terms())
    board.line(
        "power-rule", say("A derivative over the root of its own function gives twice the root."), *pending
    )


def _square_lines(board: Board, plan: RootPlan) -> None:
    seen, square = plan.seen, plan.square
    board.aside(seen.under_tree, square.tree, "complete-square", seen.square_reason(square))
    outside = square_root(abs(square.factor))
    if outside is not None and square.body != seen.under_tree:
        front = outside.reciprocal().times(seen.front * plan.rest)
        body = Integral(Quotient(Integer(1), Root(square.body)), seen.letter)
        board.line("complete-square", say("Put this in under the root."), front.in_front_of(body))
    board.line("standard-integral", _standard_reason(plan), *plan.last_terms(untidy=True))
    board.line("tidy", say("Tidy up inside the function."), *plan.last_terms())


def _standard_reason(plan: RootPlan) -> str:
    square = plan.square
    if plan.form == "arcsin":
        said = say("One over the root of a number squared minus a square gives an inverse sine.")
    elif square.number > 0:
        said = say("This standard integral is a logarithm (an inverse hyperbolic sine, up to a constant).")
    else:
        said = say("This standard integral is a logarithm (an inverse hyperbolic cosine, up to a constant).")
    return said if square.scale == 1 else together(said, say("Divide by the coefficient of the variable."))


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Roots of a quadratic below the line",
    work=_work,
    slips=SLIPS,
)
