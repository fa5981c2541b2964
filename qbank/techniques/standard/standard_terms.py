"""One term of a sum that is a constant times a standard form, and what students make of it.

A term knows its antiderivative. It also knows what comes out when one habit of the working is wrong: the slope of
the inner function multiplied instead of divided, a power not divided by. A slip is a habit; a term that the habit
does not concern gives its right antiderivative.

Here are the powers and the logarithm; exponentials, functions and squares have files of their own.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol, TypeAlias

from qbank.maths.constant_factor import in_front, number, over, times
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Power,
    Quotient,
    Root,
    fraction,
    product,
    rational,
)
from qbank.maths.factors import Factored
from qbank.maths.positivity import surely_positive
from qbank.messages import say
from qbank.techniques.standard.linear_inner import Inner

__all__ = [
    "Habit",
    "LogarithmTerm",
    "PowerTerm",
    "StandardTerm",
    "logarithm",
    "root_or_power",
    "slope_factor",
]

#: how a working is done; anything but "right" is a slip
Habit: TypeAlias = Literal[
    "right",
    "slope ignored",
    "slope multiplied",
    "power not divided",
    "divided by the old power",
    "power not raised",
    "differentiated",
    "logarithm of the power",
    "denominator integrated",
    "exponent raised",
    "base ignored",
    "base multiplied",
    "sign changed",
    "function raised",
    "front factor ignored",
    "ratio ignored",
    "logarithm of the denominator",
    "front factor of the other",
    "root as a power",
]


class StandardTerm(Protocol):
    """A constant times a standard form with a linear function inside.

    Attributes:
        constant: the constant in front.
        reason: what the teacher says, one sentence.
    """

    @property
    def constant(self) -> Factored:
        """The constant in front."""
        ...

    @property
    def reason(self) -> str:
        """What the teacher says at the line that integrates it."""
        ...

    @property
    def inner(self) -> Inner:
        """The linear function inside."""
        ...

    def core(self) -> Expression:
        """The standard form without the constant."""
        ...

    def draft(self) -> Expression | None:
        """The antiderivative before the numbers are worked out, where a teacher writes such a line."""
        ...

    def answer(self, habit: Habit = "right") -> Expression:
        """The antiderivative, or what the habit makes of it."""
        ...


def root_or_power(base: Expression, exponent: Fraction, *, roots: bool = True) -> Expression:
    """A power as it is written in an answer: `sqrt(x)` for 1/2, below a fraction line when negative.

    >>> from qbank.maths.expression import Symbol
    >>> root_or_power(Symbol("x"), Fraction(-1, 2))
    Quotient(numerator=Integer(value=1), denominator=Root(radicand=Symbol(name='x'), index=2))
    """
    if exponent < 0:
        return Quotient(Integer(1), root_or_power(base, -exponent, roots=roots))
    if exponent == 1:
        return base
    if roots and exponent.numerator == 1:
        return Root(base, exponent.denominator)
    return Power(base, rational(exponent))


def logarithm(argument: Expression) -> Expression:
    """`ln|g|`, without the modulus where g is positive by its looks.

    >>> from qbank.maths.expression import Symbol
    >>> logarithm(Symbol("x") ** 2 + 1).argument == Symbol("x") ** 2 + 1
    True
    """
    return Apply("ln", argument if surely_positive(argument) else Apply("abs", argument))


def slope_factor(inner: Inner, habit: Habit) -> Factored:
    """What the answer is multiplied by on account of the inner function: one over its slope, or a slip."""
    if habit == "slope ignored":
        return number(1)
    return inner.slope if habit == "slope multiplied" else over(inner.slope)


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerTerm:
    """`constant * inner^exponent`, the exponent any rational number but -1.

    Attributes:
        constant: the constant in front.
        inner: what is raised to the power.
        exponent: the power.
        as_power: whether it was written as a power, so that the answer shows no roots and no fraction line for it.
    """

    constant: Factored
    inner: Inner
    exponent: Fraction
    as_power: bool = False

    @property
    def reason(self) -> str:
        """What the teacher says."""
        if not self.exponent:
            return say("The integral of a constant is the constant times the variable.")
        if self.inner.plain:
            return say("Raise the power by one and divide by the new power.")
        return say("Raise the power by one, divide by the new power and by the slope of the bracket.")

    @property
    def is_plain(self) -> bool:
        """Whether nobody writes a line in between: a whole power of the variable itself."""
        return self.inner.plain and self.exponent >= 0 and self.exponent.denominator == 1

    def core(self) -> Expression:
        """The power."""
        return _power(self.inner.tree, self.exponent)

    def draft(self) -> Expression | None:
        """`(2x + 1)^4/(2 * 4)`."""
        new = self.exponent + 1
        slope = () if self.inner.plain else (self.inner.slope.tree(),)
        if (self.is_plain and not slope) or not self.exponent or (new == 1 and not slope):
            return None
        under = product(*slope, *((rational(new),) if new != 1 else ()))
        return in_front_of_draft(self.constant, Quotient(_power(self.inner.tree, new), under))

    def answer(self, habit: Habit = "right") -> Expression:
        """The power raised by one, divided by the new power and the slope."""
        n, base = self.exponent, self.inner.tree
        if not n:
            return in_front(self.constant, base)
        divisor, new = n + 1, n + 1
        match habit:
            case "power not divided":
                divisor = fraction(1, 1)
            case "divided by the old power":
                divisor = n
            case "power not raised":
                new = n
            case "differentiated":
                return in_front(times(self.constant, self.inner.slope, number(n)), self._written(n - 1))
            case "logarithm of the power" if n < -1 and n.denominator == 1:
                front = times(self.constant, over(self.inner.slope))
                return in_front(front, logarithm(_power(base, -n)))
            case "denominator integrated" if n < 0 and not self.as_power:
                front = times(self.constant, self.inner.slope, number(1 - n))
                return in_front(front, self._written(n - 1))
            case _:
                pass
        front = times(self.constant, slope_factor(self.inner, habit), number(1 / divisor))
        return in_front(front, self._written(new))

    def _written(self, exponent: Fraction) -> Expression:
        if not exponent:
            return Integer(1)
        if self.as_power and self.exponent < 0:
            return _power(self.inner.tree, exponent)
        return root_or_power(self.inner.tree, exponent, roots=not self.as_power)


def _power(base: Expression, exponent: Fraction) -> Expression:
    if not exponent:
        return Integer(1)
    return base if exponent == 1 else Power(base, rational(exponent))


def in_front_of_draft(constant: Factored, body: Quotient) -> Expression:
    """A constant before a fraction that is not to be worked out yet."""
    if constant.coefficient == 1 and not constant.powers:
        return body
    negative = constant.coefficient < 0
    size = Factored(coefficient=abs(constant.coefficient), powers=constant.powers).tree()
    whole = body if size == Integer(1) else product(size, body)
    return -whole if negative else whole


@dataclass(frozen=True, slots=True, kw_only=True)
class LogarithmTerm:
    """`constant / inner`."""

    constant: Factored
    inner: Inner

    @property
    def reason(self) -> str:
        """What the teacher says."""
        if self.inner.plain:
            return say("The reciprocal gives the logarithm of the modulus.")
        return say("The reciprocal gives the logarithm of the modulus; divide by the slope of the bracket.")

    def core(self) -> Expression:
        """The reciprocal."""
        return Quotient(Integer(1), self.inner.tree)

    def draft(self) -> Expression | None:
        """Nothing in between."""
        return None

    def answer(self, habit: Habit = "right") -> Expression:
        """The logarithm, divided by the slope."""
        base = self.inner.tree
        if habit == "differentiated":
            front = times(self.constant, number(-1), self.inner.slope)
            return in_front(front, Quotient(Integer(1), Power(base, Integer(2))))
        if habit == "denominator integrated":
            front = times(self.constant, self.inner.slope, number(2))
            return in_front(front, Quotient(Integer(1), Power(base, Integer(2))))
        return in_front(times(self.constant, slope_factor(self.inner, habit)), logarithm(base))
