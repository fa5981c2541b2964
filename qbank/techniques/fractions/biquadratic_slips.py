"""What students do with a biquadratic below the line: each slip is the plan with a number changed, run to the end.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from qbank.maths.expression import Apply, Expression, sum_of
from qbank.maths.surds import Surd
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.fractions.biquadratic_lines import OddPart
from qbank.techniques.fractions.biquadratic_parts import EvenPart
from qbank.techniques.fractions.biquadratic_plan import BiquadraticPlan, biquadratic_plan
from qbank.techniques.quadratics.over_quadratic import antiderivative_terms
from qbank.techniques.slips import last_term_lost, sign_of_a_term_lost, slips_of
from qbank.techniques.technique import Slip

__all__ = ["biquadratic_slips"]

Change = Callable[[EvenPart], EvenPart]


def biquadratic_slips(prefix: str) -> tuple[Slip, ...]:
    """The slips of the technique.

    Args:
        prefix: the first words of their identifiers.
    """
    slip = slips_of(prefix, biquadratic_plan)
    return (
        slip(
            "middle-term-of-square",
            say("The square of a sum has a middle term: here it is a number, and it must be made good."),
            _in_logarithms(_middle_term_lost),
        ),
        slip(
            "inverse-tangent-for-logarithm",
            say(
                "A sum of two squares leads to the inverse tangent, a difference of two squares to logarithms."
            ),
            _in_logarithms(_squares_added),
        ),
        slip(
            "two-of-logarithm-lost",
            say("Divide by twice the number that is squared."),
            _in_logarithms(lambda part: replace(part, size=2 * part.size)),
        ),
        slip(
            "logarithm-of-ratio-upside-down",
            say("Check which factor stands above: turning the ratio over changes the sign of its logarithm."),
            _in_logarithms(lambda part: replace(part, size=-part.size)),
        ),
        slip(
            "number-not-divided-by",
            say("Divide by the number that is squared: it stands in front of the inverse tangent."),
            lambda plan: (
                _changed(plan, lambda part: replace(part, number_forgotten=True))
                if not all(part.is_logarithm for part in plan.even)
                else None
            ),
        ),
        slip(
            "number-inside-forgotten",
            say(
                "The number below must be turned into a 1 first, so the variable is divided by its root inside."
            ),
            lambda plan: (
                _changed(plan, lambda part: replace(part, ratio_forgotten=True))
                if any(not part.is_logarithm and not part.has_real_squares for part in plan.even)
                else None
            ),
        ),
        slip(
            "sign-of-second-part",
            say(
                "Check the split of the numerator by multiplying out: the sign of one part is the other one."
            ),
            lambda plan: (
                _changed(plan, lambda part: replace(part, size=part.size * part.sign))
                if len(plan.even) > 1
                else None
            ),
        ),
        slip(
            "inverse-tangent-of-square",
            say(
                "The inverse tangent of a square needs the variable above the line: differentiate it and see."
            ),
            _of_square,
        ),
        slip(
            "logarithm-of-denominator",
            say("The logarithm of the denominator needs its derivative above the line."),
            _logarithm,
        ),
        sign_of_a_term_lost(prefix),
        last_term_lost(prefix),
    )


def _in_logarithms(change: Change) -> Callable[[BiquadraticPlan], Expression | None]:
    """A slip that changes the even parts that give a logarithm; none where no part does."""

    def wrong(plan: BiquadraticPlan) -> Expression | None:
        if not any(part.is_logarithm for part in plan.even):
            return None
        return _changed(plan, lambda part: change(part) if part.is_logarithm else part)

    return wrong


def _changed(plan: BiquadraticPlan, change: Change) -> Expression:
    """The answer with every even part changed where it matters."""
    terms = replace(plan, even=tuple(map(change, plan.even))).even_terms()
    odd = OddPart(plan.even[0], plan.front, plan.odd).terms() if any(plan.odd) else ()
    return sum_of(*antiderivative_terms(plan.whole, plan.letter), *terms, *odd)


def _middle_term_lost(part: EvenPart) -> EvenPart:
    return replace(part, taken=-part.middle)


def _squares_added(part: EvenPart) -> EvenPart:
    return replace(part, taken=-part.below)


def _of_square(plan: BiquadraticPlan) -> Expression | None:
    """`arctan(x^2)` for one over `x^4 + 1`."""
    part = plan.even[0]
    if part.middle or len(plan.left.over) > 1:
        return None
    inside = Surd(part.outer / part.inner).in_front_of(part.letter**2)
    front = plan.front / (part.outer * part.inner)
    return sum_of(*antiderivative_terms(plan.whole, plan.letter), scaled(front, Apply("arctan", inside)))


def _logarithm(plan: BiquadraticPlan) -> Expression | None:
    if len(plan.left.over) > 1 or plan.whole:
        return None
    part = plan.even[0]
    positive = not part.middle or part.middle + 2 * part.outer * part.inner > 0
    inside = part.under if positive else Apply("abs", part.under)
    return scaled(plan.front, Apply("ln", inside))
