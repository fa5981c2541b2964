"""Slips that several techniques invite: each technique lists those that truly apply, under a name of its own.

The identifiers are unique in the whole catalogue, so each maker here takes the first words of the name from the
technique: `standard-sign-of-a-term-lost`, `substitution-differentiated-instead`.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol, TypeVar

from qbank.maths.derivative import derivative
from qbank.maths.expression import Expression, Negate, Sum, Symbol, sum_of
from qbank.messages import say
from qbank.techniques.standard.standard_terms import Habit
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = [
    "HABITS",
    "HabitWords",
    "differentiated_instead",
    "habit_slip",
    "last_term_lost",
    "sign_of_a_term_lost",
    "slips_of",
]

_Found = TypeVar("_Found")


def slips_of(
    prefix: str, find: Callable[[Expression, Symbol], _Found | None]
) -> Callable[[str, str, Callable[[_Found], Expression | None]], Slip]:
    """What makes the slips of a technique that answers from what it found in the integrand.

    Args:
        prefix: the first words of their identifiers.
        find: what the technique finds in an integrand; None where it is not of its kind.

    Returns:
        a maker of slips: the last words of the identifier, the sentence, and the wrong answer (None where there is none).
    """

    def slip(name: str, sentence: str, wrong: Callable[[_Found], Expression | None]) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            found = find(solution.integrand, solution.variable)
            changed = None if found is None else wrong(found)
            return None if changed == solution.antiderivative else changed

        return Slip(identifier=f"{prefix}-{name}", sentence=sentence, answer=answer)

    return slip


class HasHabits(Protocol):
    """What an answer is written from, with a right habit or a wrong one."""

    def answer(self, habit: Habit = "right") -> Expression:
        """The antiderivative, or what the habit makes of it."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class HabitWords:
    """How a wrong habit is named and told.

    Attributes:
        habit: what is done differently.
        name: the last words of the identifier.
        sentence: what to tell the student.
    """

    habit: Habit
    name: str
    sentence: str


#: the habits of `standard_terms`, the most typical first
HABITS: tuple[HabitWords, ...] = (
    HabitWords(
        habit="slope ignored",
        name="inner-coefficient-forgotten",
        sentence=say("The coefficient inside comes out when you differentiate, so you must divide by it."),
    ),
    HabitWords(
        habit="slope multiplied",
        name="inner-coefficient-multiplied",
        sentence=say(
            "When integrating, divide by the coefficient inside; multiplying belongs to differentiating."
        ),
    ),
    HabitWords(
        habit="sign changed",
        name="sign-of-function",
        sentence=say(
            "Check the sign by differentiating your answer: the sign of this standard integral is the other one."
        ),
    ),
    HabitWords(
        habit="power not divided",
        name="not-divided-by-new-power",
        sentence=say("After raising the power by one, divide by the new power."),
    ),
    HabitWords(
        habit="divided by the old power",
        name="divided-by-old-power",
        sentence=say("Divide by the new power, the one after raising it by one."),
    ),
    HabitWords(
        habit="power not raised",
        name="power-not-raised",
        sentence=say("The power itself goes up by one; only dividing is not enough."),
    ),
    HabitWords(
        habit="differentiated",
        name="differentiated-instead",
        sentence=say("This is the derivative; the question asks for the integral."),
    ),
    HabitWords(
        habit="logarithm of the power",
        name="logarithm-for-power",
        sentence=say(
            "The logarithm belongs to the first power below the line only; other powers go by the power rule."
        ),
    ),
    HabitWords(
        habit="denominator integrated",
        name="denominator-integrated",
        sentence=say("The integral of a reciprocal is not the reciprocal of the integral."),
    ),
    HabitWords(
        habit="exponent raised",
        name="exponent-raised",
        sentence=say("The power rule is for a variable base; an exponential keeps its exponent."),
    ),
    HabitWords(
        habit="base ignored",
        name="logarithm-of-base-forgotten",
        sentence=say(
            "An exponential with a base other than e brings the logarithm of the base: divide by it."
        ),
    ),
    HabitWords(
        habit="base multiplied",
        name="logarithm-of-base-multiplied",
        sentence=say(
            "When integrating, divide by the logarithm of the base; multiplying belongs to differentiating."
        ),
    ),
    HabitWords(
        habit="function raised",
        name="function-raised-like-a-variable",
        sentence=say(
            "The power rule needs the derivative of the function beside it; a power alone cannot simply be raised."
        ),
    ),
    HabitWords(
        habit="logarithm of the denominator",
        name="logarithm-for-inverse-tangent",
        sentence=say(
            "The logarithm needs the derivative of the denominator above it; a sum of squares gives the inverse tangent."
        ),
    ),
    HabitWords(
        habit="front factor ignored",
        name="front-factor-forgotten",
        sentence=say(
            "Differentiate the inverse function: the number inside comes out and must be made good in front."
        ),
    ),
    HabitWords(
        habit="front factor of the other",
        name="front-factor-of-inverse-tangent",
        sentence=say("The factor one over a belongs to the inverse tangent; the inverse sine has none."),
    ),
    HabitWords(
        habit="ratio ignored",
        name="number-inside-forgotten",
        sentence=say(
            "The number below must be turned into a 1 first, so the variable is divided by its root inside."
        ),
    ),
    HabitWords(
        habit="root as a power",
        name="root-integrated-as-a-power",
        sentence=say(
            "The power rule works for a linear bracket below the root; a square below it needs the inverse sine."
        ),
    ),
)


def habit_slip(prefix: str, words: HabitWords, see: Callable[[WorkedSolution], HasHabits | None]) -> Slip:
    """A slip that runs the plan of an integral with one wrong habit.

    Args:
        prefix: first words of the identifier.
        words: the habit, its name and what to say.
        see: the plan of a solved integral, or None when this slip cannot occur.
    """

    def answer(solution: WorkedSolution) -> Expression | None:
        plan = see(solution)
        if plan is None:
            return None
        wrong = plan.answer(words.habit)
        same = wrong == solution.antiderivative or solution.variable not in wrong.symbols()
        return None if same else wrong

    return Slip(identifier=f"{prefix}-{words.name}", sentence=words.sentence, answer=answer)


def differentiated_instead(prefix: str) -> Slip:
    """The integrand differentiated, where the result is no longer than the answer wanted."""
    return Slip(
        identifier=f"{prefix}-differentiated-instead",
        sentence=say("This is the derivative; the question asks for the integral."),
        answer=_differentiated,
    )


def _differentiated(solution: WorkedSolution) -> Expression | None:
    wrong = derivative(solution.integrand, solution.variable)
    alike = _size(wrong) <= 2 * _size(solution.antiderivative)
    return wrong if alike and solution.variable in wrong.symbols() else None


def _size(tree: Expression) -> int:
    return sum(1 for _ in tree.walk())


def sign_of_a_term_lost(prefix: str) -> Slip:
    """The sign of the last term turned, where the answer has several."""
    return Slip(
        identifier=f"{prefix}-sign-of-a-term-lost",
        sentence=say("Keep the sign of every term through all lines."),
        answer=_last_sign_turned,
    )


def _last_sign_turned(solution: WorkedSolution) -> Expression | None:
    match solution.antiderivative:
        case Sum((*first, Negate(last))):
            return sum_of(*first, last)
        case Sum((*first, last)):
            return sum_of(*first, Negate(last))
        case _:
            return None


def last_term_lost(prefix: str) -> Slip:
    """The last term left out, where the answer has several."""
    return Slip(
        identifier=f"{prefix}-term-lost",
        sentence=say("Every term of the sum must be integrated; one is missing."),
        answer=_without_last,
    )


def _without_last(solution: WorkedSolution) -> Expression | None:
    match solution.antiderivative:
        case Sum((*first, last)) if _moves(last, solution.variable):
            return sum_of(*first)
        case _:
            return None


def _moves(tree: Expression, variable: Symbol) -> bool:
    return variable in tree.symbols()
