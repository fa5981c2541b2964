"""What students do with a fraction whose numbers are letters: each slip changes one thing in the plan and runs it to the end.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from qbank.maths.constant_factor import in_front
from qbank.maths.expression import Apply, Expression
from qbank.maths.parametric import TooLargeError
from qbank.messages import say
from qbank.techniques.fractions.letter_plan import Habit, LetterPlan, letter_plan
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["SLIPS"]


def _slip(name: str, sentence: str, wrong: Callable[[LetterPlan], Expression | None]) -> Slip:
    def answer(solution: WorkedSolution) -> Expression | None:
        plan = letter_plan(solution.integrand, solution.variable)
        try:
            found = None if plan is None else wrong(plan)
        except TooLargeError:
            return None
        if found is None or found == solution.antiderivative or found == plan_answer(solution):
            return None
        return found if solution.variable in found.symbols() else None

    return Slip(identifier=f"letter-fractions-{name}", sentence=sentence, answer=answer)


def plan_answer(solution: WorkedSolution) -> Expression | None:
    """The right answer as the plan writes it."""
    plan = letter_plan(solution.integrand, solution.variable)
    return None if plan is None else plan.answer()


def _habit(habit: Habit) -> Callable[[LetterPlan], Expression | None]:
    return lambda plan: replace(plan, habit=habit).answer()


def _interchanged(plan: LetterPlan) -> Expression | None:
    """The numerators of the first two brackets change places."""
    places = [i for i, piece in enumerate(plan.pieces) if len(piece.top) == 1]
    if len(plan.brackets) < 2 or len(places) < 2:
        return None
    first, second = places[:2]
    pieces = list(plan.pieces)
    tops = pieces[first].top, pieces[second].top
    pieces[first], pieces[second] = replace(pieces[first], top=tops[1]), replace(pieces[second], top=tops[0])
    return replace(plan, pieces=tuple(pieces)).answer()


def _logarithm_of_all(plan: LetterPlan) -> Expression | None:
    """Whatever stands above the line, the logarithm of what stands below."""
    return in_front(plan.constant, Apply("ln", Apply("abs", plan.below)))


SLIPS = (
    _slip(
        "inner-coefficient-forgotten",
        say("Divide by the coefficient of the variable in the bracket, a letter too."),
        _habit("slope ignored"),
    ),
    _slip(
        "sign-of-power",
        say(
            "A power below the line has a negative exponent: dividing by the new exponent brings a minus sign."
        ),
        _habit("sign of power"),
    ),
    _slip(
        "whole-part-lost",
        say("The whole part of the division must be integrated as well."),
        _habit("whole part lost"),
    ),
    _slip(
        "front-factor-forgotten",
        say("What makes the squares equal to the standard form stands in front of the inverse function too."),
        _habit("front ignored"),
    ),
    _slip(
        "numerators-interchanged",
        say("Check which number stands over which bracket: put in a value and compare both sides."),
        _interchanged,
    ),
    _slip(
        "logarithm-of-denominator",
        say("The logarithm of the denominator needs its derivative above the line."),
        _logarithm_of_all,
    ),
    differentiated_instead("letter-fractions"),
)
