"""tan^n or cot^n alone: tan^2 = sec^2 - 1 lowers the power by two until tan or 1 is left; so for tanh^n and coth^n.

    tan^5 = tan^3 sec^2 - tan sec^2 + tan        each tan^k sec^2 is a power of u = tan times du
    tanh^5 = tanh - tanh sech^2 - tanh^3 sech^2

`TangentPower` holds the few numbers; a slip changes one of them and runs on to the end.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Power,
    Symbol,
    difference,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import power_tree
from qbank.maths.tidying import scaled
from qbank.messages import Message, say
from qbank.techniques.circular.angles import Angle, Constants
from qbank.techniques.circular.power_terms import PowerRule, Term, bracket, integrated, term_tree
from qbank.techniques.circular.split_and_substitute import differential_rate, fact_up_to
from qbank.techniques.circular.tangent_functions import FUNCTIONS, TangentFunction
from qbank.techniques.working import Working

__all__ = ["TangentPower", "tangent_power_lines"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TangentPower:
    """The numbers of one working.

    Attributes:
        coefficient: the number in front of the integral.
        angle: the angle.
        name: `tan`, `cot`, `tanh` or `coth`.
        power: n, at least 2.
        sign: the sign of the derivative: 1 for tan and tanh, -1 for the others.
        scale: the slope of the angle.
        constants: what is not rational in front of the integral, and the unit of the angle.
        one: -1, the last term of tan^2 = sec^2 - 1 (1 in a slip); 1 for tanh and coth.
        second: 1, the number before sec^2 there; -1 in tanh^2 = 1 - sech^2.
        powers: what is done to the powers of u; anything but "raised" is a slip.
        rest: what happens to the 1 or the tangent left at the end: worked, or lost, its sign changed,
            differentiated instead (slips).
    """

    coefficient: Fraction
    angle: Angle
    name: str
    power: int
    sign: int
    scale: Fraction
    constants: Constants
    one: int = -1
    second: int = 1
    powers: PowerRule = "raised"
    rest: Literal["worked", "lost", "sign changed", "differentiated"] = "worked"

    @property
    def rounds(self) -> int:
        """How often the power is lowered."""
        return self.power // 2

    @property
    def left(self) -> int:
        """The power that is left at the end, 0 or 1."""
        return self.power % 2

    @property
    def function(self) -> TangentFunction:
        """What is known of the function."""
        return FUNCTIONS[self.name]

    @property
    def square(self) -> Expression:
        """The square of the partner."""
        return Power(Apply(self.function.squared, self.angle.tree), Integer(2))

    def lowered(self, rounds: int) -> tuple[Term, ...]:
        """The powers that stand before sec^2 after so many rounds, with their signs."""
        return tuple(
            Term(
                coefficient=fraction(self.second * self.one**j, 1),
                exponent=fraction(self.power - 2 - 2 * j, 1),
            )
            for j in range(rounds)
        )

    def integrated(self) -> tuple[Term, ...]:
        """The powers of u in the antiderivative, without the number in front."""
        return integrated(self.lowered(self.rounds), self.powers)

    @property
    def front(self) -> Fraction:
        """The number in front of the integral in u."""
        return self.coefficient / (self.sign * self.scale)

    def rest_term(self) -> Expression:
        """What the 1 or the tangent at the end contributes to the antiderivative."""
        number = self.coefficient * self.one**self.rounds
        if self.rest == "lost":
            return Integer(0)
        if self.rest == "sign changed":
            number = -number
        if self.left == 0:
            return scaled(number, self.constants.whole().applied(self.angle.variable))
        if self.rest == "differentiated":
            return scaled(number * self.sign, self.constants.whole().applied(self.square))
        below = Apply(self.function.below, self.angle.tree)
        return term_tree(number * self.function.logarithm / self.scale, below, fraction(0, 1), self.constants)

    def in_order(self, powers: tuple[Expression, ...], rest: Expression) -> Expression:
        """The powers and the rest as they are written: what has no minus sign comes first."""
        if rest == Integer(0):
            return sum_of(*powers)
        return sum_of(rest, *powers) if self.second < 0 else sum_of(*powers, rest)

    def answer(self) -> Expression:
        """The antiderivative, multiplied out."""
        tangent = Apply(self.name, self.angle.tree)
        powers = (
            term_tree(self.front * t.coefficient, tangent, t.exponent, self.constants)
            for t in self.integrated()
        )
        return self.in_order(tuple(powers), self.rest_term())

    def outcome(self) -> Expression:
        """What two plans have in common exactly when they lead to one answer."""
        return self.answer()


def tangent_power_lines(working: Working, plan: TangentPower, letter: Symbol) -> None:
    """Write the lines from `tan^n` to the answer.

    Args:
        working: where the lines go.
        plan: the numbers, without a slip.
        letter: the letter of the substitution.
    """
    variable, argument = plan.angle.variable, plan.angle.tree
    tangent = Apply(plan.name, argument)
    square, function = plan.square, plan.function
    identity = (
        difference(Integer(1), square)
        if plan.second < 0
        else sum_of(Integer(1), square)
        if plan.one > 0
        else difference(square, Integer(1))
    )
    first = product(power_tree(tangent, Fraction(plan.power - 2)), identity) if plan.power > 2 else identity
    working.step(
        plan.constants.whole().in_front(plan.coefficient, Integral(first, variable)),
        "pythagorean-identity",
        function.identity,
    )
    if plan.power == 2:
        working.step(plan.answer(), "standard-integral", function.derivative)
        return
    for done in range(1, plan.rounds + 1):
        reason = (
            say("Take the two integrals apart.")
            if done == 1
            else say("Do the same with the power that is left.")
        )
        working.step(_lowered_line(plan, done, square), "reduce-power", reason)
    working.let(
        letter,
        tangent,
        differential_rate(plan.sign * plan.scale, plan.angle.unit, square),
        fact_up_to(function.beside, plan.sign * plan.scale, plan.angle.unit),
    )
    in_letter = sum_of(
        *(scaled(plan.second * t.coefficient, _power(letter, t.exponent)) for t in plan.lowered(plan.rounds))
    )
    front = plan.second * plan.front
    rest = Integral(tangent if plan.left else Integer(1), variable)
    working.step(
        plan.in_order(
            (plan.constants.in_front(front, Integral(in_letter, letter)),), _signed(plan, plan.rounds, rest)
        ),
        "substitution",
        say("Write everything in {letter}, except the first integral.", letter=letter.name)
        if plan.second < 0
        else say("Write everything in {letter}, except the last integral.", letter=letter.name),
    )
    working.step(
        plan.in_order((bracket(plan.front, plan.constants, plan.integrated(), letter),), plan.rest_term()),
        "power-rule",
        _power_reason(plan),
    )
    working.step(
        plan.answer(), "substitute-back", say("Put the function back for {letter}.", letter=letter.name)
    )


def _power_reason(plan: TangentPower) -> Message:
    match plan.rounds == 1, plan.left, plan.second:
        case True, 0, _:
            return say(
                "Raise the power by one and divide by the new power; the integral of 1 is the variable itself."
            )
        case False, 0, _:
            return say(
                "Raise each power by one and divide by the new power; the integral of 1 is the variable itself."
            )
        case True, _, 1:
            return say(
                "Raise the power by one and divide by the new power; the last integral is a standard one."
            )
        case False, _, 1:
            return say(
                "Raise each power by one and divide by the new power; the last integral is a standard one."
            )
        case True, _, _:
            return say(
                "Raise the power by one and divide by the new power; the first integral is a standard one."
            )
        case _:
            return say(
                "Raise each power by one and divide by the new power; the first integral is a standard one."
            )


def _lowered_line(plan: TangentPower, rounds: int, square: Expression) -> Expression:
    """The integrals after so many rounds, the number in front of a bracket."""
    tangent, variable = Apply(plan.name, plan.angle.tree), plan.angle.variable
    done = (
        scaled(t.coefficient, Integral(_times_power(tangent, t.exponent, square), variable))
        for t in plan.lowered(rounds)
    )
    rest = Integral(_power(tangent, Fraction(plan.power - 2 * rounds)), variable)
    whole = plan.in_order(tuple(done), scaled(plan.one**rounds, rest))
    return plan.constants.whole().in_front(plan.coefficient, whole)


def _signed(plan: TangentPower, rounds: int, tree: Expression) -> Expression:
    return plan.constants.whole().in_front(plan.coefficient * plan.one**rounds, tree)


def _power(base: Expression, exponent: Fraction) -> Expression:
    return power_tree(base, exponent) if exponent else Integer(1)


def _times_power(base: Expression, exponent: Fraction, square: Expression) -> Expression:
    return product(power_tree(base, exponent), square) if exponent else square
