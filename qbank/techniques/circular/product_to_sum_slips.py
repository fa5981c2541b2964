"""What students write when a product of sines and cosines is to be a sum: each a change of one number of the plan.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from qbank.maths.constant_factor import number, times
from qbank.maths.expression import Expression, fraction
from qbank.maths.factors import factored
from qbank.messages import say
from qbank.techniques.circular.product_to_sum_plan import AnglePlan, angle_plan
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["SLIPS"]


def _slip(change: Callable[[AnglePlan], AnglePlan]) -> Callable[[WorkedSolution], Expression | None]:
    def answer(solution: WorkedSolution) -> Expression | None:
        right = angle_plan(solution.integrand, solution.variable)
        if right is None:
            return None
        wrong, wanted = change(right).answer(), right.answer()
        alike = wrong == wanted or solution.variable not in wrong.symbols()
        return None if alike else wrong

    return answer


def _each_factor(solution: WorkedSolution) -> Expression | None:
    """The integrals of the factors, multiplied."""
    plan = angle_plan(solution.integrand, solution.variable)
    if plan is None or len(set(plan.seen.factors)) != len(plan.seen.factors):
        return None
    parts = (factored(plan.integrated((((one,), fraction(1, 1)),), number(1))) for one in plan.seen.factors)
    return times(plan.seen.constant, *parts).tree()


def _with(**changes: object) -> Callable[[AnglePlan], AnglePlan]:
    return lambda plan: replace(plan, identities=replace(plan.identities, **changes))  # type: ignore[arg-type]


SLIPS = (
    Slip(
        identifier="product-to-sum-factors-integrated-separately",
        sentence=say(
            "The integral of a product is not the product of the integrals: write the product as a sum first."
        ),
        answer=_each_factor,
    ),
    Slip(
        identifier="product-to-sum-sign-between",
        sentence=say("Check the sign between the two terms of the identity by putting in equal angles."),
        answer=_slip(_with(sign=-1)),
    ),
    Slip(
        identifier="product-to-sum-half-lost",
        sentence=say("The product is half the sum: the identity has a factor one half in front."),
        answer=_slip(_with(half=fraction(1, 1))),
    ),
    Slip(
        identifier="product-to-sum-sign-of-sine-integral",
        sentence=say("The integral of a sine is minus a cosine, that of a cosine is plus a sine."),
        answer=_slip(lambda plan: replace(plan, sine=1)),
    ),
    Slip(
        identifier="product-to-sum-wrong-functions",
        sentence=say("Sine times cosine gives sines; two sines, or two cosines, give cosines."),
        answer=_slip(_with(swapped=True)),
    ),
    Slip(
        identifier="product-to-sum-inner-coefficient-forgotten",
        sentence=say("Divide by the number inside each angle when you integrate."),
        answer=_slip(lambda plan: replace(plan, rule="forgotten")),
    ),
    Slip(
        identifier="product-to-sum-inner-coefficient-multiplied",
        sentence=say(
            "When integrating, divide by the number inside the angle; multiplying belongs to differentiating."
        ),
        answer=_slip(lambda plan: replace(plan, rule="multiplied")),
    ),
    differentiated_instead("product-to-sum"),
)
