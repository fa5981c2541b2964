"""What students do with recurrence formulae: each slip changes one number of the formula and runs it to the base case.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias

from qbank.maths.expression import Expression, Symbol
from qbank.messages import say
from qbank.techniques.recurrence.parts_recurrences import Logarithms
from qbank.techniques.recurrence.recurrence import Habit, Recurrence
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip
from qbank.techniques.term_by_term import collected
from qbank.techniques.working import WorkedSolution

__all__ = ["recurrence_slips"]

#: finds the recurrence of an integrand
Find: TypeAlias = Callable[[Expression, Symbol], Recurrence | None]


def recurrence_slips(find: Find) -> tuple[Slip, ...]:
    """The slips, given what finds the recurrence of an integrand."""

    def slip(name: str, habit: Habit, sentence: str, where: Callable[[Recurrence], bool]) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            right = find(solution.integrand, solution.variable)
            if right is None or not where(right):
                return None
            wrong = collected(replace(right, habit=habit).answer())
            same = wrong == right.answer() or solution.variable not in wrong.symbols()
            return None if same else wrong

        return Slip(identifier=f"recurrence-{name}", sentence=sentence, answer=answer)

    return (*(slip(*row) for row in _ROWS), differentiated_instead("recurrence"))


def _always(_: Recurrence) -> bool:
    return True


def _of_circular_power(plan: Recurrence) -> bool:
    return plan.floor == 1


def _of_product(plan: Recurrence) -> bool:
    return plan.floor == 0


def _of_logarithm(plan: Recurrence) -> bool:
    return isinstance(plan, Logarithms)


def _not_of_logarithm(plan: Recurrence) -> bool:
    return not isinstance(plan, Logarithms)


_ROWS: tuple[tuple[str, Habit, str, Callable[[Recurrence], bool]], ...] = (
    (
        "sign",
        "sign",
        say(
            "Check the sign before the lower integral: the formula goes wrong at every step with the other one."
        ),
        _always,
    ),
    (
        "not-divided",
        "not divided",
        say("The formula has a number before the integral on the left side too: divide by it."),
        _of_circular_power,
    ),
    (
        "number-in-front",
        "number in front",
        say(
            "The number in the formula goes with the power: look whether it is the power itself or one less."
        ),
        _always,
    ),
    (
        "base-case-lost",
        "base lost",
        say("The base case is an integral too: work it out and put it in."),
        _always,
    ),
    (
        "power-not-reduced",
        "power kept",
        say("In the term outside the integral the power is already lower than at the start."),
        _of_circular_power,
    ),
    (
        "power-reduced-too-soon",
        "power kept",
        say(
            "In the term outside the integral the power is still that of the start; it is lower inside only."
        ),
        _of_product,
    ),
    (
        "bracket-not-multiplied-out",
        "first term only",
        say("The number before a bracket belongs to every term in it, to the lower integral too."),
        _always,
    ),
    (
        "inner-coefficient-forgotten",
        "slope ignored",
        say("The coefficient inside comes out when you differentiate, so you must divide by it."),
        _not_of_logarithm,
    ),
    (
        "inner-coefficient-multiplied",
        "slope multiplied",
        say("When integrating, divide by the coefficient inside; multiplying belongs to differentiating."),
        _not_of_logarithm,
    ),
    (
        "new-power-not-divided",
        "slope ignored",
        say("When the factor beside the logarithm is integrated, divide by its new power each time."),
        _of_logarithm,
    ),
)
