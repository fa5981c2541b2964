"""What students do when hyperbolic functions are written with exponentials: each a change of one number of the plan.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from qbank.maths.constant_factor import number, over, times
from qbank.maths.expression import Apply, E, Expression, Power, fraction
from qbank.maths.factors import Factored, factored
from qbank.messages import say
from qbank.techniques.hyperbolic.exponential_plan import ExponentialPlan, exponential_plan
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["SLIPS"]


def _slip(
    change: Callable[[ExponentialPlan], ExponentialPlan],
) -> Callable[[WorkedSolution], Expression | None]:
    def answer(solution: WorkedSolution) -> Expression | None:
        right = exponential_plan(solution.integrand, solution.variable)
        if right is None:
            return None
        wrong, wanted = change(right).answer(), right.answer()
        return None if wrong == wanted or solution.variable not in wrong.symbols() else wrong

    return answer


def _each_factor(solution: WorkedSolution) -> Expression | None:
    """The integrals of the factors, multiplied."""
    plan = exponential_plan(solution.integrand, solution.variable)
    if plan is None or len(set(plan.factors)) != len(plan.factors):
        return None
    parts = list[Factored]()
    for name, angle in plan.factors:
        other = "cosh" if name == "sinh" else "sinh"
        body = Power(E, angle.tree) if name == "exp" else Apply(other, angle.tree)
        parts.append(times(over(angle.slope), factored(body)))
    return times(plan.constant, number(1), *parts).tree()


SLIPS = (
    Slip(
        identifier="exponentials-factors-integrated-separately",
        sentence=say(
            "The integral of a product is not the product of the integrals: multiply out with exponentials first."
        ),
        answer=_each_factor,
    ),
    Slip(
        identifier="exponentials-minus-of-sinh-lost",
        sentence=say("Sinh has a minus sign between its two exponentials, cosh a plus sign."),
        answer=_slip(lambda plan: replace(plan, sinh=1)),
    ),
    Slip(
        identifier="exponentials-half-lost",
        sentence=say("Sinh and cosh are half the difference and half the sum of the exponentials."),
        answer=_slip(lambda plan: replace(plan, half=fraction(1, 1))),
    ),
    Slip(
        identifier="exponentials-sign-of-falling-lost",
        sentence=say("Where the exponent falls, dividing by its number brings a minus sign."),
        answer=_slip(lambda plan: replace(plan, rule="sign lost")),
    ),
    Slip(
        identifier="exponentials-inner-coefficient-forgotten",
        sentence=say("Divide by the number in each exponent when you integrate."),
        answer=_slip(lambda plan: replace(plan, rule="forgotten")),
    ),
    Slip(
        identifier="exponentials-inner-coefficient-multiplied",
        sentence=say(
            "When integrating, divide by the number inside; multiplying belongs to differentiating."
        ),
        answer=_slip(lambda plan: replace(plan, rule="multiplied")),
    ),
    Slip(
        identifier="exponentials-exponents-multiplied",
        sentence=say("When powers of e are multiplied, their exponents are added."),
        answer=_slip(lambda plan: replace(plan, joined=False)),
    ),
    differentiated_instead("exponentials"),
)
