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

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Quotient,
    Root,
    Symbol,
    rational,
    sum_of,
)
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd, square_root
from qbank.maths.tidying import scaled
from qbank.techniques.completed_denominator import multiple_of
from qbank.techniques.completed_square import CompletedSquare, complete_square
from qbank.techniques.over_quadratic import Board, OverQuadratic, bracket_times, derivative, over_quadratic
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE", "RootPlan", "plan_of"]

_IDENTIFIER = "root-of-quadratic"

Form = Literal["arcsin", "ln", "arctan"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RootPlan:
    """The numbers of one working.

    Attributes:
        seen: the integrand.
        root: the number in front of the root in the answer.
        rest: the constant left over in the numerator.
        square: the quadratic with its square completed.
        last: the number in front of the last function.
        form: that function.
    """

    seen: OverQuadratic
    root: Fraction
    rest: Fraction
    square: CompletedSquare
    last: Surd
    form: Form

    def answer(self) -> Expression:
        """The antiderivative."""
        return sum_of(*self.root_terms(), *self.last_terms())

    def root_terms(self) -> tuple[Expression, ...]:
        """The root of the quadratic, if it occurs."""
        return (scaled(self.root, Root(self.seen.under_tree)),) if self.root else ()

    def last_terms(self, *, untidy: bool = False) -> tuple[Expression, ...]:
        """The last function, if there is one, perhaps with the fractions inside not cleared."""
        if not self.rest:
            return ()
        square = self.square
        if self.form == "ln":
            body = square.body if untidy else self._under_root()
            whole = sum_of(square.inside, Root(body))
            argument = whole if square.number > 0 else Apply("abs", whole)
            return (self.last.in_front_of(Apply("ln", argument)),)
        ratio = square.untidy_ratio if untidy else square.ratio
        return (self.last.in_front_of(Apply(self.form, ratio)),)

    def _under_root(self) -> Expression:
        """u^2 + number multiplied out; the quadratic as it was written where it is the same."""
        square = self.square
        line = (
            square.shift**2 + square.number,
            2 * square.scale * square.shift,
            square.scale**2,
        )
        return self.seen.under_tree if line == self.seen.under else polynomial_tree(line, square.letter)


def plan_of(integrand: Expression, variable: Symbol) -> RootPlan | None:
    """The numbers of an integrand of this kind, else None.

    >>> from qbank.maths.expression import sqrt
    >>> x = Symbol("x")
    >>> plan_of((x + 3) / sqrt(5 + 4 * x - x**2), x).rest
    Fraction(5, 1)
    """
    seen = over_quadratic(integrand, variable, Fraction(1, 2))
    if seen is None or len(seen.over) > 2:
        return None
    square = complete_square(seen.under, variable)
    if square is None or (square.factor < 0 < square.number):
        return None
    multiple, rest = multiple_of(seen.line, derivative(seen.under))
    last = last_number(seen.front * rest, square)
    if last is None:
        return None
    form: Form = "arcsin" if square.factor < 0 else "ln"
    return RootPlan(seen=seen, root=2 * seen.front * multiple, rest=rest, square=square, last=last, form=form)


def last_number(front: Fraction, square: CompletedSquare) -> Surd | None:
    """What stands in front of the inverse sine or the logarithm; None when the numbers are too large."""
    outside = square_root(abs(square.factor))
    return None if outside is None else outside.reciprocal().times(front / square.scale)


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
        said = (
            "Write the numerator as a multiple of the derivative of what is under the root, and a constant."
        )
    else:
        said = "The numerator is a multiple of the derivative of what is under the root."
    board.aside(seen.over_tree, split, "split-numerator", said)
    next_said = "Split into two integrals." if plan.rest else "Put this in for the numerator."
    board.line("split-numerator", next_said, derivative_over, *pending)
    board.finished(*plan.root_terms())
    board.line("power-rule", "A derivative over the root of its own function gives twice the root.", *pending)


def _square_lines(board: Board, plan: RootPlan) -> None:
    seen, square = plan.seen, plan.square
    board.aside(seen.under_tree, square.tree, "complete-square", seen.square_reason(square))
    outside = square_root(abs(square.factor))
    if outside is not None and square.body != seen.under_tree:
        front = outside.reciprocal().times(seen.front * plan.rest)
        body = Integral(Quotient(Integer(1), Root(square.body)), seen.letter)
        board.line("complete-square", "Put this in under the root.", front.in_front_of(body))
    board.line("standard-integral", _standard_reason(plan), *plan.last_terms(untidy=True))
    board.line("tidy", "Tidy up inside the function.", *plan.last_terms())


def _standard_reason(plan: RootPlan) -> str:
    square = plan.square
    if plan.form == "arcsin":
        said = "One over the root of a number squared minus a square gives an inverse sine"
    else:
        name = "sine" if square.number > 0 else "cosine"
        said = f"This standard integral is a logarithm (an inverse hyperbolic {name}, up to a constant)"
    return f"{said}." if square.scale == 1 else f"{said}; divide by the coefficient of the variable."


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Roots of a quadratic below the line",
    work=_work,
    slips=(),
)
