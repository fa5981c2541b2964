"""What students do differently when powers of hyperbolic functions are worked: each a change of one number.

The typical ones come from the circle: cosh^2 + sinh^2 = 1, a minus sign for the derivative of cosh. All common
practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from qbank.maths.expression import Expression, fraction
from qbank.messages import say
from qbank.techniques.circular import split_slips
from qbank.techniques.circular.double_angles import AS_TAUGHT
from qbank.techniques.circular.even_plan import EvenPlan
from qbank.techniques.circular.split_and_substitute import Split
from qbank.techniques.circular.tangent_powers import TangentPower
from qbank.techniques.hyperbolic.hyperbolic_kinds import HyperbolicPlan, hyperbolic_kind
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["SLIPS"]


def _slip(
    change: Callable[[HyperbolicPlan], HyperbolicPlan | None],
) -> Callable[[WorkedSolution], Expression | None]:
    def answer(solution: WorkedSolution) -> Expression | None:
        kind = hyperbolic_kind(solution.integrand, solution.variable)
        return None if kind is None else split_slips.if_different(change(kind.plan), kind.plan)

    return answer


#: replaced^2 = first + second inner^2 as it is for the circular functions
_OF_THE_CIRCLE = {
    "sinh": (1, -1),
    "cosh": (1, -1),
    "sech": (1, 1),
    "tanh": (-1, 1),
    "cosech": (1, 1),
    "coth": (-1, 1),
}


def _circular_identity(plan: HyperbolicPlan) -> HyperbolicPlan:
    match plan:
        case Split():
            return replace(plan, identity=_OF_THE_CIRCLE[plan.replaced])
        case TangentPower():
            return replace(plan, one=-1, second=1)
        case EvenPlan():
            return replace(plan, identities=AS_TAUGHT)


def _minus_given(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    """`du = -sinh x dx` for u = cosh x."""
    return replace(plan, sign=-1) if isinstance(plan, Split) and plan.inner == "cosh" else None


def _minus_lost(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    if isinstance(plan, EvenPlan) or plan.sign > 0:
        return None
    return split_slips.sign_of_rate_changed(plan)


def _rate_forgotten(plan: HyperbolicPlan) -> HyperbolicPlan:
    if isinstance(plan, EvenPlan):
        return replace(plan, rule="forgotten")
    return split_slips.rate_forgotten(plan)


def _rate_multiplied(plan: HyperbolicPlan) -> HyperbolicPlan:
    if isinstance(plan, EvenPlan):
        return replace(plan, rule="multiplied")
    return split_slips.rate_multiplied(plan)


def _not_divided(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    return None if isinstance(plan, EvenPlan) else split_slips.not_divided(plan)


def _divided_by_old(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    return None if isinstance(plan, EvenPlan) else split_slips.divided_by_old_power(plan)


def _middle_lost(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    match plan:
        case Split():
            return replace(plan, middle=False)
        case EvenPlan():
            return replace(plan, identities=replace(plan.identities, middle=False))
        case _:
            return None


def _partner_back(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    # sinh cosh is both (sinh^2/2)' and (cosh^2/2)', so there the partner is right as well
    if not isinstance(plan, Split) or (not plan.pairs and plan.power == 1):
        return None
    return replace(plan, restored=plan.replaced)


def _half_lost(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    if not isinstance(plan, EvenPlan):
        return None
    return replace(plan, identities=replace(plan.identities, half=fraction(1, 1)))


def _not_doubled(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    if not isinstance(plan, EvenPlan):
        return None
    return replace(plan, identities=replace(plan.identities, factor=1))


def _squares_interchanged(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    """`sinh^2 = 1/2 (cosh 2x + 1)`."""
    if not isinstance(plan, EvenPlan):
        return None
    right = plan.identities
    return replace(plan, identities=replace(right, of_sine=right.of_cosine, of_cosine=right.of_sine))


def _rest_lost(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    return replace(plan, rest="lost") if isinstance(plan, TangentPower) else None


def _logarithm_sign(plan: HyperbolicPlan) -> HyperbolicPlan | None:
    """`-ln(cosh x)` for the integral of tanh, as for the tangent."""
    return replace(plan, rest="sign changed") if isinstance(plan, TangentPower) and plan.left else None


def _raised(solution: WorkedSolution) -> Expression | None:
    kind = hyperbolic_kind(solution.integrand, solution.variable)
    return (
        None if kind is None else split_slips.raised_like_a_variable(replace(kind.seen, powers=kind.powers))
    )


SLIPS = (
    Slip(
        identifier="hyperbolic-identity-of-the-circle",
        sentence=say("Cosh squared minus sinh squared is one: the signs are not those of sine and cosine."),
        answer=_slip(_circular_identity),
    ),
    Slip(
        identifier="hyperbolic-minus-given-to-derivative-of-cosh",
        sentence=say("The derivative of cosh is sinh, with no minus sign."),
        answer=_slip(_minus_given),
    ),
    Slip(
        identifier="hyperbolic-minus-of-derivative-lost",
        sentence=say("The derivatives of sech, cosech and coth have a minus sign."),
        answer=_slip(_minus_lost),
    ),
    Slip(
        identifier="hyperbolic-inner-coefficient-forgotten",
        sentence=say("The number inside comes out when you differentiate, so you must divide by it."),
        answer=_slip(_rate_forgotten),
    ),
    Slip(
        identifier="hyperbolic-half-lost",
        sentence=say("The identity for twice the argument has a factor one half in front."),
        answer=_slip(_half_lost),
    ),
    Slip(
        identifier="hyperbolic-squares-interchanged",
        sentence=say(
            "Put in zero to check the identity: cosh squared is one there, and sinh squared is zero."
        ),
        answer=_slip(_squares_interchanged),
    ),
    Slip(
        identifier="hyperbolic-raised-like-a-variable",
        sentence=say(
            "The power rule needs the derivative of the function beside it; a power alone cannot simply be raised."
        ),
        answer=_raised,
    ),
    Slip(
        identifier="hyperbolic-left-over-term-lost",
        sentence=say("The one in the identity leaves an integral of its own: do not drop it."),
        answer=_slip(_rest_lost),
    ),
    Slip(
        identifier="hyperbolic-logarithm-sign",
        sentence=say("Check the sign of the logarithm by differentiating it."),
        answer=_slip(_logarithm_sign),
    ),
    Slip(
        identifier="hyperbolic-inner-coefficient-multiplied",
        sentence=say(
            "When integrating, divide by the number inside; multiplying belongs to differentiating."
        ),
        answer=_slip(_rate_multiplied),
    ),
    Slip(
        identifier="hyperbolic-argument-not-doubled",
        sentence=say("The identity for a square has twice the argument on the other side."),
        answer=_slip(_not_doubled),
    ),
    Slip(
        identifier="hyperbolic-middle-term-lost",
        sentence=say("A bracket raised to a power has middle terms too: multiply it out term by term."),
        answer=_slip(_middle_lost),
    ),
    Slip(
        identifier="hyperbolic-not-divided-by-new-power",
        sentence=say("After raising the power by one, divide by the new power."),
        answer=_slip(_not_divided),
    ),
    Slip(
        identifier="hyperbolic-divided-by-old-power",
        sentence=say("Divide by the new power, the one after raising it by one."),
        answer=_slip(_divided_by_old),
    ),
    Slip(
        identifier="hyperbolic-partner-put-back",
        sentence=say("Put back the function that you substituted, not its partner."),
        answer=_slip(_partner_back),
    ),
    differentiated_instead("hyperbolic"),
)
