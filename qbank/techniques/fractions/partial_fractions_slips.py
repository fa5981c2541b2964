"""What students do with partial fractions: each slip is the plan with a number changed, run to the end.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction

from qbank.maths.expression import Apply, Expression, fraction
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.fractions.partial_fractions_plan import PartialPlan, partial_plan
from qbank.techniques.fractions.simple_fractions import Simple
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["SLIPS"]

Change = Callable[[PartialPlan], "PartialPlan | None"]


def _by(change: Change) -> Callable[[WorkedSolution], Expression | None]:
    """The answer of a student whose plan differs; None where the slip cannot occur or changes nothing."""

    def answer(solution: WorkedSolution) -> Expression | None:
        plan = partial_plan(solution.integrand, solution.variable)
        wrong = change(plan) if plan is not None else None
        return None if wrong is None or wrong == plan else _moving(wrong.answer(), solution)

    return answer


def _moving(wrong: Expression, solution: WorkedSolution) -> Expression | None:
    same = wrong == solution.antiderivative or solution.variable not in wrong.symbols()
    return None if same else wrong


def _linear(plan: PartialPlan) -> list[int]:
    """The places of the fractions with one number above the line."""
    return [place for place, one in enumerate(plan.simple) if len(one.top) == 1]


def _with(plan: PartialPlan, changes: Mapping[int, tuple[Fraction, ...]]) -> PartialPlan:
    simple = tuple(
        replace(one, top=changes[place]) if place in changes else one for place, one in enumerate(plan.simple)
    )
    return replace(plan, simple=simple)


def _interchanged(plan: PartialPlan) -> PartialPlan | None:
    places = _linear(plan)
    if len(places) < 2:
        return None
    first, second = places[:2]
    return _with(plan, {first: plan.simple[second].top, second: plan.simple[first].top})


def _sign(plan: PartialPlan) -> PartialPlan | None:
    places = [place for place, one in enumerate(plan.simple) if any(one.top)]
    if len(places) < 2:
        return None
    return _with(plan, {places[-1]: tuple(-c for c in plan.simple[places[-1]].top)})


def _each_its_own(plan: PartialPlan) -> PartialPlan | None:
    """The denominator split, and the numerator 1 over each factor."""
    if len(plan.left.over) > 1 or any(len(one.top) > 1 for one in plan.simple):
        return None
    above = fraction(1, 1) / plan.size
    return _with(plan, dict.fromkeys(range(len(plan.simple)), (above,)))


def _remainder_only(plan: PartialPlan) -> PartialPlan | None:
    return replace(plan, whole=()) if plan.whole else None


def _repeated_once(plan: PartialPlan) -> PartialPlan | None:
    """A repeated bracket is given its highest power only."""
    lower = {
        place: (fraction(0, 1),)
        for place, one in enumerate(plan.simple)
        if len(one.top) == 1 and any(_is_higher(other, one) for other in plan.simple)
    }
    return _with(plan, lower) if lower else None


def _is_higher(other: Simple[Fraction], one: Simple[Fraction]) -> bool:
    return other.below.factor == one.below.factor and other.below.exponent > one.below.exponent


def _constant_over_quadratic(plan: PartialPlan) -> PartialPlan | None:
    changes = {
        place: (one.top[0], fraction(0, 1))
        for place, one in enumerate(plan.simple)
        if len(one.top) == 2 and all(one.top)
    }
    return _with(plan, changes) if changes else None


def _slope_ignored(plan: PartialPlan) -> PartialPlan | None:
    slopes = [one.below.factor[1] for one in plan.simple if len(one.top) == 1 and one.top[0]]
    return replace(plan, slope_ignored=True) if any(slope != 1 for slope in slopes) else None


def _power_sign(plan: PartialPlan) -> PartialPlan | None:
    powers = any(one.below.exponent > 1 and any(one.top) for one in plan.simple)
    return replace(plan, power_sign=1) if powers else None


def _logarithm_of_all(solution: WorkedSolution) -> Expression | None:
    """One over the product is taken to the logarithm of the product."""
    plan = partial_plan(solution.integrand, solution.variable)
    if plan is None or len(plan.left.over) > 1 or plan.whole:
        return None
    return _moving(scaled(plan.left.front, Apply("ln", Apply("abs", plan.left.under_tree))), solution)


SLIPS = (
    Slip(
        identifier="partial-fractions-numerators-interchanged",
        sentence=say("Check which number stands over which bracket: put in a value and compare both sides."),
        answer=_by(_interchanged),
    ),
    Slip(
        identifier="partial-fractions-sign-of-numerator",
        sentence=say("Check the sign of each numerator: put in a value and compare both sides."),
        answer=_by(_sign),
    ),
    Slip(
        identifier="partial-fractions-numerators-not-found",
        sentence=say("Splitting the denominator changes the fraction: the numerators must be found."),
        answer=_by(_each_its_own),
    ),
    Slip(
        identifier="partial-fractions-logarithm-of-denominator",
        sentence=say("The logarithm of the denominator needs its derivative above the line."),
        answer=_logarithm_of_all,
    ),
    Slip(
        identifier="partial-fractions-whole-part-lost",
        sentence=say("The whole part of the division must be integrated as well."),
        answer=_by(_remainder_only),
    ),
    Slip(
        identifier="partial-fractions-repeated-bracket-once",
        sentence=say("A repeated bracket needs a fraction for each of its powers."),
        answer=_by(_repeated_once),
    ),
    Slip(
        identifier="partial-fractions-constant-over-quadratic",
        sentence=say("Over a quadratic that does not factorise the numerator is linear, not a number."),
        answer=_by(_constant_over_quadratic),
    ),
    Slip(
        identifier="partial-fractions-inner-coefficient-forgotten",
        sentence=say("Divide by the coefficient of the variable in the bracket."),
        answer=_by(_slope_ignored),
    ),
    Slip(
        identifier="partial-fractions-sign-of-power",
        sentence=say(
            "A power below the line has a negative exponent: dividing by the new exponent brings a minus sign."
        ),
        answer=_by(_power_sign),
    ),
)
