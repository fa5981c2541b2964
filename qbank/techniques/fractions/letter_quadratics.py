"""The lines about quadratics with letters for numbers: the numerator with the derivative, powers brought down, the square completed."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from qbank.maths.constant_factor import ONE, before_integral, in_front, number
from qbank.maths.expression import Integer, Integral, Negate, Power, Quotient, Symbol, sum_of
from qbank.maths.factors import power_tree
from qbank.maths.notation import plain
from qbank.maths.parametric import Parametric
from qbank.messages import Message, say, together
from qbank.techniques.fractions.letter_pieces import completed, polynomial_in
from qbank.techniques.fractions.letter_plan import LetterPlan
from qbank.techniques.fractions.simple_fractions import Bracket
from qbank.techniques.working import Working

__all__ = ["numerators", "one_over", "power_lines", "squares"]


def numerators(working: Working, plan: LetterPlan) -> None:
    """The numerators over quadratics with the derivative of these, where that is more than the variable."""
    for piece in plan.pieces:
        if len(piece.bracket.factor) < 3 or not piece.top[1] or not piece.bracket.factor[1]:
            continue
        _, r, p = piece.bracket.factor
        share = piece.top[1] / (p * 2)
        slope = polynomial_in((r, p * 2), plan.variable)
        left = piece.top[0] - share * r
        split = [in_front(share.factored(), slope), *((left.tree(),) if left else ())]
        said = say("Write the numerator as a multiple of the derivative of the quadratic, and a constant.")
        above = polynomial_in(piece.top, plan.variable)
        if above != sum_of(*split):
            working.aside(above, sum_of(*split), "split-numerator", said)


def power_lines(working: Working, bracket: Bracket[Parametric], exponent: int, x: Symbol) -> None:
    """How a power of a quadratic comes down."""
    square = completed(bracket, x)
    twice, lower = square.number * (2 * (exponent - 1)), -(2 * exponent - 3)
    q, r, p = (c * lower for c in bracket.factor)
    above = polynomial_in((q + twice, r, p), x)
    outside = Quotient(square.inner, power_tree(bracket.base, Fraction(exponent - 1)))
    raised = Power(bracket.base, Integer(exponent))
    working.balance(
        Integral(Quotient(above, raised), x),
        outside,
        rule="quotient-rule",
        reason=say(
            "Differentiate the right side by the quotient rule and cancel a bracket: the integrand on the left comes out."
        ),
    )
    working.aside(
        above,
        sum_of(twice.tree(), in_front(number(lower), bracket.base)),
        "split-numerator",
        say("Write the numerator with the bracket that stands below the line."),
    )
    integrals = (
        before_integral(twice.factored(), one_over(bracket, exponent, x)),
        before_integral(number(lower), one_over(bracket, exponent - 1, x)),
    )
    working.balance(
        sum_of(*integrals),
        outside,
        rule="split-numerator",
        reason=say("So the fraction falls into integrals with powers of the bracket below the line."),
    )


def squares(
    working: Working, bracket: Bracket[Parametric], variable: Symbol, whole: Callable[[Message], Message]
) -> None:
    """The quadratic as a number times 1 and a square, and what has to be positive for that."""
    square = completed(bracket, variable)
    moving = Power(in_front(square.root, square.inner), Integer(2))
    inside = sum_of(Integer(1), moving if square.is_sum else Negate(moving))
    right = in_front(square.number.factored(), inside)
    if right == bracket.base or (square.root == ONE and not bracket.factor[1]):
        return
    said = say("Take the number out, so that a square is left.")
    if bracket.factor[1]:
        said = say("Complete the square, and take the number out.")
    for base in square.conditions:
        needed = say("This is for {ratio} positive, so that its root is a number.", ratio=plain(base))
        said = together(said, needed)
    working.aside(bracket.base, right, "take-out", whole(said))


def one_over(bracket: Bracket[Parametric], exponent: int, variable: Symbol) -> Integral:
    """The integral of one over a power of a quadratic."""
    return Integral(Quotient(Integer(1), power_tree(bracket.base, Fraction(exponent))), variable)
