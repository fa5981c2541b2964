"""What students do with a power of `p + q cos A` below the line: each slip changes one number of the formula and runs it down.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from qbank.maths.constant_factor import ONE, in_front, number, over, times
from qbank.maths.expression import Apply, Expression, Integer, Quotient, product
from qbank.messages import say
from qbank.techniques.half_angle.denominator_powers import DenominatorPowers, Habit, denominator_powers
from qbank.techniques.half_angle.letter_kinds import slope
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["SLIPS"]

_Wrong = Callable[[DenominatorPowers], Expression | None]


def _slip(name: str, sentence: str, wrong: _Wrong) -> Slip:
    def answer(solution: WorkedSolution) -> Expression | None:
        plan = denominator_powers(solution.integrand, solution.variable)
        found = None if plan is None else wrong(plan)
        if found is None or found == solution.antiderivative:
            return None
        return found if solution.variable in found.symbols() else None

    return Slip(identifier=f"circular-denominator-{name}", sentence=sentence, answer=answer)


def _habit(habit: Habit) -> _Wrong:
    return lambda plan: replace(plan, habit=habit).answer()


def _with_slope(habit: Habit) -> _Wrong:
    return lambda plan: None if slope(plan.seen) == ONE else replace(plan, habit=habit).answer()


def _as_a_power(plan: DenominatorPowers) -> Expression | None:
    """`1/(p + q f)^n` taken to `-1/((n - 1)(p + q f)^(n - 1))`."""
    if len(plan.over) > 1:
        return None
    front = times(plan.seen.constant, number(-plan.over[0] / (plan.power - 1)))
    return in_front(front, Quotient(Integer(1), plan.raised(plan.power - 1)))


def _by_the_derivative(plan: DenominatorPowers) -> Expression | None:
    """The same, divided by the derivative of the bracket, which is no number."""
    if len(plan.over) > 1:
        return None
    size = number(plan.sign * plan.over[0] / ((plan.power - 1) * plan.line[1]))
    below = product(Apply(plan.names[1], plan.seen.angle.tree), plan.raised(plan.power - 1))
    return in_front(times(plan.seen.constant, size, over(slope(plan.seen))), Quotient(Integer(1), below))


SLIPS = (
    _slip(
        "sign-of-derivative",
        say(
            "Check the sign: the derivative of the sine is the cosine, that of the cosine is minus the sine."
        ),
        _habit("sign"),
    ),
    _slip(
        "squares-added",
        say("The number before the integral holds the difference of the two squares, not their sum."),
        _habit("squares added"),
    ),
    _slip(
        "not-divided",
        say("There is a number before the integral that you want: divide all other terms by it."),
        _habit("not divided"),
    ),
    _slip(
        "last-integral-lost",
        say("An integral with the bracket itself below the line is left: work it out and put it in."),
        _habit("base lost"),
    ),
    _slip(
        "inner-coefficient-forgotten",
        say("The number inside the angle comes out when you differentiate, so you must divide by it."),
        _with_slope("slope ignored"),
    ),
    _slip(
        "inner-coefficient-multiplied",
        say(
            "When integrating, divide by the number inside the angle; multiplying belongs to differentiating."
        ),
        _with_slope("slope multiplied"),
    ),
    _slip(
        "bracket-as-a-letter",
        say(
            "The power rule is for a power of the variable: the derivative of the bracket is missing beside it."
        ),
        _as_a_power,
    ),
    _slip(
        "divided-by-derivative",
        say("You may divide by the derivative of a bracket only where that is a number."),
        _by_the_derivative,
    ),
    differentiated_instead("circular-denominator"),
)
