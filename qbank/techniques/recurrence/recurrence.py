"""A recurrence formula with its numbers, and the way down to the base case; a slip changes one of the numbers.

6 I_6 = -sin^5 x cos x + 5 I_4        a rung: share 6, term, lower 5
int sin^6 x dx = -1/6 sin^5 x cos x + 5/6 (-1/4 sin^3 x cos x + 3/4 I_2)     two rungs down
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from qbank.maths.constant_factor import ONE, in_front, number, over, split_constant, times
from qbank.maths.expression import Expression, Integer, Power, Symbol, sum_of
from qbank.maths.factors import Factored, power_tree
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.indexed_integral import IndexedIntegral
from qbank.techniques.standard.standard_sums import plan_as_written
from qbank.techniques.standard.standard_terms import Habit as StandardHabit
from qbank.techniques.working import Working

__all__ = ["Habit", "Recurrence", "Rung", "Stage", "raised"]

#: how the formula is used; anything but "right" is a slip
Habit: TypeAlias = Literal[
    "right",
    "number in front",
    "sign",
    "power kept",
    "not divided",
    "base lost",
    "first term only",
    "slope ignored",
    "slope multiplied",
]


@dataclass(frozen=True, slots=True)
class Rung:
    """`share * I_k = (sum of size * body) + lower * I_(k - step)`."""

    share: int
    terms: tuple[tuple[Factored, Expression], ...]
    lower: Factored


@dataclass(frozen=True, slots=True)
class Stage:
    """How far one has come: `done + size * I_k`.

    Attributes:
        done: the terms that are finished.
        size: the constant before the integral that is left; its number is 0 when none is left.
        power: k.
    """

    done: tuple[Expression, ...]
    size: Factored
    power: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Recurrence(ABC):
    """One integrand, and the formula for its kind.

    Attributes:
        variable: the variable.
        front: the constant before the integral.
        power: n, the power that is brought down.
        rate: the derivative of what is inside, by which the formula divides.
        habit: how the formula is used.
    """

    variable: Symbol
    front: Factored
    power: int
    rate: Factored
    habit: Habit = "right"

    @property
    @abstractmethod
    def step(self) -> int:
        """By how much the formula brings the power down."""

    @property
    @abstractmethod
    def floor(self) -> int:
        """The highest power of a base case."""

    @property
    @abstractmethod
    def is_first(self) -> bool:
        """Whether the usual way does the same thing so often that the formula is better."""

    @abstractmethod
    def member(self, power: Expression | int) -> Expression:
        """The integrand with any power, a letter too."""

    @abstractmethod
    def rung(self, power: int) -> Rung:
        """The formula for one power."""

    @abstractmethod
    def derive(self, working: Working, called: IndexedIntegral) -> None:
        """Write how the formula comes about, with a letter for the power."""

    @property
    def letters(self) -> tuple[Symbol, Symbol]:
        """U and v, or the next two that do not occur."""
        taken = sum_of(self.front.tree(), self.member(self.power), self.variable)
        first = spare_letter(taken)
        return first, spare_letter(sum_of(taken, first))

    @property
    def below(self) -> Factored:
        """One over the rate, or what a slip makes of it."""
        if self.habit == "slope ignored":
            return ONE
        return self.rate if self.habit == "slope multiplied" else over(self.rate)

    def stages(self) -> Iterator[Stage]:
        """From the integral itself, with its constant, down to the base case."""
        stage = Stage(done=(), size=self.front, power=self.power)
        yield stage
        while stage.size.coefficient and stage.power > self.floor:
            rung = self.rung(stage.power)
            share = number(Fraction(1, rung.share))
            done = (in_front(times(stage.size, share, size), body) for size, body in rung.terms)
            # a factor that stops at the first term of the bracket is lost further down
            carried = self.front if self.habit == "first term only" else stage.size
            size = times(carried, share, rung.lower)
            stage = Stage(done=(*stage.done, *done), size=size, power=stage.power - self.step)
            yield stage

    def base(self, power: int) -> Expression:
        """The integral of the base case."""
        habits: dict[Habit, StandardHabit] = {
            "slope ignored": "slope ignored",
            "slope multiplied": "slope multiplied",
        }
        plan = plan_as_written(self.member(power), self.variable)
        assert plan is not None  # a base case is a standard form
        return plan.answer(habits.get(self.habit, "right"))

    def finished(self, stage: Stage) -> Expression:
        """The terms of the last stage with the base case put in."""
        if self.habit == "base lost" or not stage.size.coefficient:
            return sum_of(*stage.done)
        fixed, moving = split_constant(self.base(stage.power), self.variable)
        return sum_of(*stage.done, in_front(times(stage.size, fixed), moving.tree()))

    def answer(self) -> Expression:
        """The antiderivative."""
        *_, last = self.stages()
        return self.finished(last)


def raised(base: Expression, power: Expression | int) -> Expression:
    """A power with a letter or a number, as it is written by hand.

    >>> x = Symbol("x")
    >>> raised(x, 1) == x, raised(x, 0) == Integer(1), raised(x, Symbol("n")) == x ** Symbol("n")
    (True, True, True)
    """
    if isinstance(power, Expression):
        return Power(base, power)
    return power_tree(base, Fraction(power)) if power else Integer(1)
