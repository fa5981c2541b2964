"""A fraction whose denominator has its square completed: a logarithm, and an inverse tangent or a log of a ratio.

(x + 3)/(x^2 + 2x + 5)
x + 3 = 1/2 (2x + 2) + 2            multiple of the derivative, and a rest
1/2 ln(x^2 + 2x + 5)                from the multiple
x^2 + 2x + 5 = (x + 1)^2 + 2^2
arctan((x + 1)/2)                   from the rest

1/(u^2 + k^2)    1/k arctan(u/k)
1/(u^2 - k^2)    1/(2k) ln|(u - k)/(u + k)|
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from qbank.maths.expression import Apply, Expression, Negate, Quotient, fraction, rational, sum_of
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd
from qbank.maths.tidying import scaled
from qbank.messages import say, together
from qbank.techniques.quadratics.completed_square import CompletedSquare, complete_square
from qbank.techniques.quadratics.over_quadratic import (
    Board,
    Coefficients,
    OverQuadratic,
    antiderivative_terms,
    bracket_times,
    derivative,
)

__all__ = ["CompletedPlan", "Form", "completed_lines", "completed_plan", "last_number", "multiple_of"]

Form = Literal["arctan", "ln", "arcsin"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CompletedPlan:
    """The numbers of one working.

    Attributes:
        seen: the fraction after any division, its quadratic with a positive leading coefficient.
        whole: the whole part of the division, lowest power first; empty when none was needed.
        multiple: of the derivative of the denominator in the numerator.
        rest: the constant left over.
        square: the denominator with its square completed.
        last: the number in front of the last function.
        form: that function; `ln` stands for the logarithm of a ratio.
    """

    seen: OverQuadratic
    whole: Coefficients
    multiple: Fraction
    rest: Fraction
    square: CompletedSquare
    last: Surd
    form: Form

    def answer(self) -> Expression:
        """The antiderivative."""
        return sum_of(*self.whole_terms(), *self.log_terms(), *self.last_terms())

    def whole_terms(self) -> tuple[Expression, ...]:
        """The integral of the whole part."""
        return tuple(antiderivative_terms(self.whole, self.seen.letter))

    def log_terms(self) -> tuple[Expression, ...]:
        """The logarithm of the denominator, if there is one."""
        if not self.multiple:
            return ()
        under = self.seen.under_tree
        argument = under if self.seen.discriminant < 0 else Apply("abs", under)
        return (scaled(self.seen.front * self.multiple, Apply("ln", argument)),)

    def last_terms(self, *, untidy: bool = False) -> tuple[Expression, ...]:
        """The last function, if there is one, perhaps with the fractions inside not cleared."""
        if not self.rest:
            return ()
        square, number = self.square, self.last
        if self.form == "ln":
            below, above = square.bracketed
            if untidy:
                root = square.root.tree()
                below, above = sum_of(square.inside, Negate(root)), sum_of(square.inside, root)
            elif number.rational < 0:
                below, above, number = above, below, number.times(-1)
            return (number.in_front_of(Apply("ln", Apply("abs", Quotient(below, above)))),)
        return (number.in_front_of(Apply(self.form, square.untidy_ratio if untidy else square.ratio)),)


def completed_plan(seen: OverQuadratic, whole: Coefficients) -> CompletedPlan | None:
    """The numbers for a denominator that is no perfect square; None when they are too large."""
    square = complete_square(seen.under, seen.letter)
    if square is None:
        return None
    multiple, rest = multiple_of(seen.line, derivative(seen.under))
    form: Form = "arctan" if square.number > 0 else "ln"
    last = last_number(seen.front * rest, square, form)
    return CompletedPlan(
        seen=seen, whole=whole, multiple=multiple, rest=rest, square=square, last=last, form=form
    )


def multiple_of(line: Coefficients, slope: Coefficients) -> tuple[Fraction, Fraction]:
    """`(m, r)` with `line = m * slope + r`, for two linear expressions.

    >>> multiple_of((Fraction(3), Fraction(1)), (Fraction(2), Fraction(2)))
    (Fraction(1, 2), Fraction(2, 1))
    """
    multiple = line[1] / slope[1]
    return multiple, line[0] - multiple * slope[0]


def last_number(front: Fraction, square: CompletedSquare, form: Form) -> Surd:
    """What stands in front of the inverse tangent or of the logarithm of the ratio."""
    times = front / (square.factor * square.scale)
    return square.root.reciprocal().times(times if form == "arctan" else times / 2)


def completed_lines(board: Board, plan: CompletedPlan) -> None:
    """Write the lines from the fraction (its whole part done) to the answer."""
    seen = plan.seen
    one_over = Quotient(rational(1), seen.under_tree)
    pending = (board.integral(seen.front * plan.rest, one_over),) if plan.rest else ()
    if plan.multiple:
        _split_lines(board, plan, pending)
    if not plan.rest:
        return
    square = plan.square
    board.aside(seen.under_tree, square.tree, "complete-square", seen.square_reason(square))
    completed = board.integral(seen.front * plan.rest / square.factor, Quotient(rational(1), square.body))
    if square.body != seen.under_tree:
        board.line("complete-square", say("Put this in for the denominator."), completed)
    untidy, tidied = plan.last_terms(untidy=True), plan.last_terms()
    board.line("standard-integral", _standard_reason(plan), *untidy)
    board.line("tidy", say("Tidy up: clear the fractions and the signs."), *tidied)


def _split_lines(board: Board, plan: CompletedPlan, pending: tuple[Expression, ...]) -> None:
    seen = plan.seen
    slope = polynomial_tree(derivative(seen.under), seen.letter)
    split = bracket_times(plan.multiple, slope, plan.rest)
    if plan.rest:
        reason = say(
            "Write the numerator as a multiple of the derivative of the denominator, and a constant."
        )
    else:
        reason = say("The numerator is a multiple of the derivative of the denominator.")
    board.aside(seen.over_tree, split, "split-numerator", reason)
    derivative_over = board.integral(seen.front * plan.multiple, Quotient(slope, seen.under_tree))
    board.line(
        "split-numerator",
        say("Split into two integrals.") if plan.rest else say("Put this in for the numerator."),
        derivative_over,
        *pending,
    )
    board.finished(*plan.log_terms())
    if seen.discriminant < 0:
        sign = say("The denominator is positive everywhere, so no modulus is needed.")
    else:
        sign = say("The denominator is of either sign, so the modulus is needed.")
    logarithm = say("A derivative over its own function gives the logarithm.")
    board.line("logarithmic-derivative", together(logarithm, sign), *pending)


def _standard_reason(plan: CompletedPlan) -> str:
    number = plan.square.root != Surd(fraction(1, 1))
    scale = plan.square.scale != 1
    if plan.form == "arctan":
        return together(
            say("One over a sum of two squares gives an inverse tangent."),
            say("Divide by the number that is squared and by the coefficient of the variable.")
            if number and scale
            else say("Divide by the number that is squared.")
            if number
            else say("Divide by the coefficient of the variable.")
            if scale
            else "",
        )
    return together(
        say("One over a difference of two squares gives the logarithm of a ratio."),
        say("Divide by twice the number that is squared and by the coefficient of the variable.")
        if scale
        else say("Divide by twice the number that is squared."),
    )
