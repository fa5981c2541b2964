"""What students do differently when powers of circular functions are worked: each a change of one number.

A working is written from a few numbers, its plan; a slip changes one of them and the plan runs on to the end, so
that the wrong answer follows from the wrong line as it does on a student's page.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Protocol, TypeAlias

from qbank.maths.expression import Apply, Expression, Power, Symbol, fraction, product, rational
from qbank.maths.tidying import scaled
from qbank.techniques.circular.circular_powers import CircularPowers
from qbank.techniques.circular.split_and_substitute import Split
from qbank.techniques.circular.tangent_powers import TangentPower
from qbank.techniques.working import WorkedSolution

__all__ = [
    "HasOutcome",
    "Plan",
    "divided_by_old_power",
    "identity_with_wrong_sign",
    "if_different",
    "middle_terms_lost",
    "not_divided",
    "powers_differentiated",
    "raised_like_a_variable",
    "rate_forgotten",
    "rate_multiplied",
    "sign_of_rate_changed",
    "slip_by",
]


class HasOutcome(Protocol):
    """The few numbers that a working is written from, and the answer they lead to."""

    def answer(self) -> Expression:
        """The antiderivative."""
        ...

    def outcome(self) -> object:
        """What two plans have in common exactly when they lead to one answer."""
        ...


#: plans that have a sign and a scale of the differential
Plan: TypeAlias = Split | TangentPower


def if_different(wrong: HasOutcome | None, right: HasOutcome) -> Expression | None:
    """The answer of a changed plan; None when there is no change or it still reaches the right answer."""
    return None if wrong is None or wrong.outcome() == right.outcome() else wrong.answer()


def slip_by(
    see: Callable[[Expression, Symbol], Plan | None], change: Callable[[Plan], Plan | None]
) -> Callable[[WorkedSolution], Expression | None]:
    """The answer of a student whose working differs in one number.

    Args:
        see: the plan of an integrand, or None when it is of another kind.
        change: what the student does differently; None where that cannot occur.

    Returns:
        A function for `Slip.answer`.
    """

    def answer(solution: WorkedSolution) -> Expression | None:
        right = see(solution.integrand, solution.variable)
        return None if right is None else if_different(change(right), right)

    return answer


def sign_of_rate_changed(plan: Plan) -> Plan:
    """The sign of du is lost, or put where there is none."""
    return replace(plan, sign=-plan.sign)


def rate_forgotten(plan: Plan) -> Plan:
    """The number inside the angle is not divided by."""
    return replace(plan, scale=fraction(1, 1), constants=plan.constants.whole())


def rate_multiplied(plan: Plan) -> Plan:
    """The number inside the angle is multiplied by."""
    return replace(plan, scale=1 / plan.scale, constants=plan.constants.inverted())


def not_divided(plan: Plan) -> Plan:
    """The power is raised, the new power not divided by."""
    return replace(plan, powers="not divided")


def divided_by_old_power(plan: Plan) -> Plan:
    """The power is raised, and the old power divided by."""
    return replace(plan, powers="divided by the old")


def powers_differentiated(plan: Plan) -> Plan | None:
    """The powers are differentiated; None where nothing would be left."""
    changed = replace(plan, powers="differentiated")
    return changed if changed.integrated() else None


def identity_with_wrong_sign(plan: Plan) -> Plan:
    """The identity is remembered with a wrong sign: of the square, or of the one after `tan^2 = sec^2`."""
    if isinstance(plan, TangentPower):
        return replace(plan, one=1)
    first, second = plan.identity
    return replace(plan, identity=(-first, second) if plan.falling else (first, -second))


def middle_terms_lost(plan: Plan) -> Split | None:
    """A bracket is raised to a power term by term."""
    return replace(plan, middle=False) if isinstance(plan, Split) else None


def raised_like_a_variable(seen: CircularPowers) -> Expression | None:
    """`sin^3 x` taken to `sin^4 x / 4`, a product factor by factor; None unless every power is at least 2."""
    if any(n < 2 for _, n in seen.powers):
        return None
    number: Fraction = seen.coefficient
    for _, n in seen.powers:
        number /= n + 1
    raised = (Power(Apply(name, seen.angle.tree), rational(n + 1)) for name, n in seen.powers)
    return scaled(number, seen.constants.whole().applied(product(*raised)))
