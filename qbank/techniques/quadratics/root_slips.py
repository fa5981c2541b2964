"""What students do with the root of a quadratic below the line: the plan with a number changed, run to the end.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from qbank.maths.expression import Apply, Expression, Quotient, Root, fraction, product
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.quadratics.completed_square import CompletedSquare, complete_square
from qbank.techniques.quadratics.over_quadratic import derivative
from qbank.techniques.quadratics.root_plan import RootPlan, last_number, plan_of
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["SLIPS"]


def _by(change: Callable[[RootPlan], RootPlan | None]) -> Callable[[WorkedSolution], Expression | None]:
    """The answer of a student whose plan differs; None where the slip cannot occur or changes nothing."""

    def answer(solution: WorkedSolution) -> Expression | None:
        plan = plan_of(solution.integrand, solution.variable)
        wrong = change(plan) if plan is not None else None
        return None if wrong is None or wrong == plan else wrong.answer()

    return answer


def _with_square(plan: RootPlan, square: CompletedSquare) -> RootPlan | None:
    last = last_number(plan.seen.front * plan.rest, square)
    return None if last is None else replace(plan, square=square, last=last)


def _factor_of_arctan_added(plan: RootPlan) -> RootPlan | None:
    """`1/3 arcsin(x/3)`."""
    if not plan.rest or plan.form != "arcsin":
        return None
    return replace(plan, last=plan.last.times(plan.square.root.reciprocal()))


def _root_not_taken(plan: RootPlan) -> RootPlan | None:
    """`arcsin(x/9)` for 1/sqrt(9 - x^2); a number below 1 would leave hardly any place where this is real."""
    if not plan.rest or plan.form != "arcsin" or plan.square.root.square < 1:
        return None
    return replace(plan, square=replace(plan.square, root=Surd(plan.square.root.square)))


def _sign_in_square(plan: RootPlan) -> RootPlan | None:
    """`arcsin((x + 2)/3)` for 1/sqrt(5 + 4x - x^2), while both are real on a good part of the line."""
    if not plan.rest or (plan.form == "arcsin" and 4 * plan.square.shift**2 > plan.square.root.square):
        return None
    return replace(plan, square=replace(plan.square, shift=-plan.square.shift))


def _square_not_balanced(plan: RootPlan) -> RootPlan | None:
    """`5 + 4x - x^2` as `5 - (x - 2)^2`."""
    square = plan.square
    number = square.number + square.shift**2
    if not plan.rest or plan.form != "arcsin" or not square.shift or number >= 0:
        return None
    added = complete_square((number, fraction(0, 1), fraction(1, 1)), square.letter)
    return None if added is None else replace(plan, square=replace(square, number=number, root=added.root))


def _arctan_for_arcsin(plan: RootPlan) -> RootPlan | None:
    if not plan.rest or plan.form != "arcsin":
        return None
    return replace(plan, form="arctan", last=plan.last.times(plan.square.root.reciprocal()))


def _arcsin_for_logarithm(plan: RootPlan) -> RootPlan | None:
    if not plan.rest or plan.form != "ln" or plan.square.number < 0:
        return None
    return replace(plan, form="arcsin")


def _sign_under_root(plan: RootPlan) -> RootPlan | None:
    """`ln|x + sqrt(x^2 - 4)|` for 1/sqrt(x^2 + 4)."""
    if not plan.rest or plan.form != "ln":
        return None
    return replace(plan, square=replace(plan.square, number=-plan.square.number))


def _power_rule_without_derivative(solution: WorkedSolution) -> Expression | None:
    """`2 sqrt(9 - x^2)` for 1/sqrt(9 - x^2)."""
    plan = plan_of(solution.integrand, solution.variable)
    if plan is None or plan.root:
        return None
    return scaled(2 * plan.seen.front, Root(plan.seen.under_tree))


def _divided_by_derivative(solution: WorkedSolution) -> Expression | None:
    """`2 sqrt(9 - x^2)/(-2x)` for 1/sqrt(9 - x^2)."""
    plan = plan_of(solution.integrand, solution.variable)
    if plan is None or plan.root:
        return None
    slope = polynomial_tree(derivative(plan.seen.under), plan.seen.letter)
    return scaled(2 * plan.seen.front, Quotient(Root(plan.seen.under_tree), slope))


def _factor_by_factor(solution: WorkedSolution) -> Expression | None:
    """`x^2/2 arcsin(x/3)` for x/sqrt(9 - x^2)."""
    plan = plan_of(solution.integrand, solution.variable)
    if plan is None or not plan.root:
        return None
    number, above = plan.seen.over_integrated()
    alone = _with_square(replace(plan, root=fraction(0, 1), rest=fraction(1, 1)), plan.square)
    if alone is None or alone.form != "arcsin":
        return None
    last = alone.last.times(number)
    return last.in_front_of(product(above, Apply("arcsin", plan.square.ratio)))


def _two_of_the_root_lost(plan: RootPlan) -> RootPlan | None:
    """A root integrated without the 2 that dividing by one half brings."""
    return replace(plan, root=plan.root / 2) if plan.root else None


def _half_of_the_root_lost(plan: RootPlan) -> RootPlan | None:
    """`2 sqrt(x^2 + 1)` for x/sqrt(x^2 + 1): the derivative 2x taken for x."""
    if plan.seen.line == derivative(plan.seen.under):
        return None
    return replace(plan, root=2 * plan.root)


def _inverse_sine_for_root(plan: RootPlan) -> RootPlan | None:
    """`arcsin(x/3)` for x/sqrt(9 - x^2)."""
    if plan.rest or plan.form != "arcsin":
        return None
    return _with_square(replace(plan, root=fraction(0, 1), rest=fraction(1, 1)), plan.square)


def _minus_of_the_root_lost(plan: RootPlan) -> RootPlan | None:
    """The minus sign of the derivative of `9 - x^2` overlooked."""
    return replace(plan, root=-plan.root) if plan.root and plan.seen.under[2] < 0 else None


def _constant_not_adjusted(plan: RootPlan) -> RootPlan | None:
    constant = plan.seen.line[0]
    if not plan.root or not plan.rest or not constant:
        return None
    return _with_square(replace(plan, rest=constant), plan.square)


def _last_part_forgotten(plan: RootPlan) -> RootPlan | None:
    return replace(plan, rest=fraction(0, 1)) if plan.root and plan.rest else None


def _root_part_forgotten(plan: RootPlan) -> RootPlan | None:
    return replace(plan, root=fraction(0, 1)) if plan.root and plan.rest else None


def _coefficient_without_root(plan: RootPlan) -> RootPlan | None:
    """What was taken out of the root is divided by as it is, without its root."""
    factor = abs(plan.square.factor)
    if not plan.rest or factor == 1:
        return None
    return _with_square(plan, replace(plan.square, factor=plan.square.factor * factor))


def _coefficient_lost(plan: RootPlan) -> RootPlan | None:
    factor = plan.square.factor
    if not plan.rest:
        return None
    return _with_square(plan, replace(plan.square, factor=factor / abs(factor)))


def _inner_coefficient_forgotten(plan: RootPlan) -> RootPlan | None:
    return replace(plan, last=plan.last.times(plan.square.scale)) if plan.rest else None


SLIPS = (
    Slip(
        identifier="factor-of-inverse-tangent-given-to-inverse-sine",
        sentence=say(
            "The inverse sine has no number in front in the standard integral; that belongs to the inverse tangent."
        ),
        answer=_by(_factor_of_arctan_added),
    ),
    Slip(
        identifier="root-of-the-number-under-the-root-not-taken",
        sentence=say(
            "Inside the inverse sine, divide by the number that is squared, so take the square root of the constant."
        ),
        answer=_by(_root_not_taken),
    ),
    Slip(
        identifier="inverse-tangent-for-inverse-sine",
        sentence=say("With a root in the denominator and a minus before the square it is the inverse sine."),
        answer=_by(_arctan_for_arcsin),
    ),
    Slip(
        identifier="root-integrated-without-its-derivative",
        sentence=say("Raising the power works only with the derivative of what is under the root beside it."),
        answer=_power_rule_without_derivative,
    ),
    Slip(
        identifier="root-divided-by-a-derivative-that-varies",
        sentence=say(
            "Only a constant may be divided by at the end; a derivative that contains the variable may not."
        ),
        answer=_divided_by_derivative,
    ),
    Slip(
        identifier="numerator-and-root-integrated-apart",
        sentence=say(
            "The integral of a product is not the product of the integrals: split the numerator instead."
        ),
        answer=_factor_by_factor,
    ),
    Slip(
        identifier="two-of-the-root-lost",
        sentence=say("Dividing by the new power one half means multiplying by two."),
        answer=_by(_two_of_the_root_lost),
    ),
    Slip(
        identifier="half-before-root-lost",
        sentence=say("The derivative of what is under the root brings a factor of two: divide by it."),
        answer=_by(_half_of_the_root_lost),
    ),
    Slip(
        identifier="inverse-sine-with-derivative-above",
        sentence=say(
            "With the derivative of what is under the root above the line the integral is the root itself."
        ),
        answer=_by(_inverse_sine_for_root),
    ),
    Slip(
        identifier="minus-of-the-derivative-under-root-lost",
        sentence=say("The derivative of what is under the root brings a minus sign, and the root keeps it."),
        answer=_by(_minus_of_the_root_lost),
    ),
    Slip(
        identifier="sign-when-completing-the-square-under-root",
        sentence=say(
            "Check the completed square under the root by multiplying it out: the middle term must keep its sign."
        ),
        answer=_by(_sign_in_square),
    ),
    Slip(
        identifier="square-under-root-not-balanced",
        sentence=say(
            "Completing the square changes the constant too: multiply out to check that it comes back."
        ),
        answer=_by(_square_not_balanced),
    ),
    Slip(
        identifier="inverse-sine-for-logarithm",
        sentence=say(
            "The inverse sine needs a minus before the square; with a plus there the integral is a logarithm."
        ),
        answer=_by(_arcsin_for_logarithm),
    ),
    Slip(
        identifier="sign-of-number-under-root-changed",
        sentence=say("The root inside the logarithm is the same root that stood below the line."),
        answer=_by(_sign_under_root),
    ),
    Slip(
        identifier="numerator-constant-over-root-not-adjusted",
        sentence=say(
            "After splitting off the multiple of the derivative, correct the constant so that the numerator stays the same."
        ),
        answer=_by(_constant_not_adjusted),
    ),
    Slip(
        identifier="constant-part-over-root-forgotten",
        sentence=say("The constant left over in the numerator needs an integral of its own."),
        answer=_by(_last_part_forgotten),
    ),
    Slip(
        identifier="linear-part-over-root-forgotten",
        sentence=say("The term with the variable in the numerator gives a root in the answer."),
        answer=_by(_root_part_forgotten),
    ),
    Slip(
        identifier="coefficient-taken-out-without-its-root",
        sentence=say("A number taken out of a square root comes out as its square root."),
        answer=_by(_coefficient_without_root),
    ),
    Slip(
        identifier="coefficient-under-root-lost",
        sentence=say(
            "The number taken out from under the root stays in front of the integral, as one over its root."
        ),
        answer=_by(_coefficient_lost),
    ),
    Slip(
        identifier="coefficient-inside-bracket-under-root-forgotten",
        sentence=say("The bracket under the root has a coefficient in front of the variable: divide by it."),
        answer=_by(_inner_coefficient_forgotten),
    ),
)
