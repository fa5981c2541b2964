"""tan^n or cot^n alone: tan^2 = sec^2 - 1 lowers the power by two until tan or 1 is left.

    tan^5 = tan^3 sec^2 - tan sec^2 + tan        each tan^k sec^2 is a power of u = tan times du

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
    product,
    sum_of,
)
from qbank.maths.factors import power_tree
from qbank.maths.tidying import scaled
from qbank.techniques.circular.angles import Angle, Constants
from qbank.techniques.circular.split_and_substitute import (
    PowerRule,
    Term,
    bracket,
    differential_rate,
    integrated,
    term_tree,
    up_to,
)
from qbank.techniques.working import Working

__all__ = ["TangentPower", "tangent_power_lines"]

_SQUARED = {"tan": "sec", "cot": "cosec"}
_BELOW = {"tan": "cos", "cot": "sin"}
_WORDS = {"tan": ("tangent", "secant"), "cot": ("cotangent", "cosecant")}


@dataclass(frozen=True, slots=True, kw_only=True)
class TangentPower:
    """The numbers of one working.

    Attributes:
        coefficient: the number in front of the integral.
        angle: the angle.
        name: `tan` or `cot`.
        power: n, at least 2.
        sign: 1 for tan and -1 for cot, the sign of the derivative.
        scale: the slope of the angle.
        constants: what is not rational in front of the integral, and the unit of the angle.
        one: -1, the last term of tan^2 = sec^2 - 1 (1 in a slip).
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

    def lowered(self, rounds: int) -> tuple[Term, ...]:
        """The powers that stand before sec^2 after so many rounds, with their signs."""
        return tuple(
            Term(coefficient=Fraction(self.one**j), exponent=Fraction(self.power - 2 - 2 * j))
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
            square = Power(Apply(_SQUARED[self.name], self.angle.tree), Integer(2))
            return scaled(number if self.name == "tan" else -number, self.constants.whole().applied(square))
        logarithm = -number if self.name == "tan" else number
        return term_tree(
            logarithm / self.scale, Apply(_BELOW[self.name], self.angle.tree), Fraction(0), self.constants
        )

    def answer(self) -> Expression:
        """The antiderivative, multiplied out."""
        tangent = Apply(self.name, self.angle.tree)
        powers = (
            term_tree(self.front * t.coefficient, tangent, t.exponent, self.constants)
            for t in self.integrated()
        )
        rest = self.rest_term()
        return sum_of(*powers, *(() if rest == Integer(0) else (rest,)))

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
    square = Power(Apply(_SQUARED[plan.name], argument), Integer(2))
    word, squared_word = _WORDS[plan.name]
    reason = f"{word.capitalize()} squared is {squared_word} squared minus one."
    identity = difference(square, Integer(1))
    first = product(power_tree(tangent, Fraction(plan.power - 2)), identity) if plan.power > 2 else identity
    working.step(
        plan.constants.whole().in_front(plan.coefficient, Integral(first, variable)),
        "pythagorean-identity",
        reason,
    )
    if plan.power == 2:
        minus = "" if plan.name == "tan" else "minus "
        working.step(
            plan.answer(),
            "standard-integral",
            f"The derivative of the {word} is {minus}{squared_word} squared.",
        )
        return
    for done in range(1, plan.rounds + 1):
        reason = "Take the two integrals apart." if done == 1 else "Do the same with the power that is left."
        working.step(_lowered_line(plan, done, square), "reduce-power", reason)
    remark = up_to(plan.sign * plan.scale, plan.angle.unit)
    working.let(
        letter,
        tangent,
        differential_rate(plan.sign * plan.scale, plan.angle.unit, square),
        f"The squared {squared_word} is the derivative of the {word}{remark}.",
    )
    in_letter = sum_of(
        *(scaled(t.coefficient, _power(letter, t.exponent)) for t in plan.lowered(plan.rounds))
    )
    rest = Integral(tangent if plan.left else Integer(1), variable)
    working.step(
        sum_of(
            plan.constants.in_front(plan.front, Integral(in_letter, letter)), _signed(plan, plan.rounds, rest)
        ),
        "substitution",
        f"Write everything in {letter.name}, except the last integral.",
    )
    known = "the last integral is a standard one" if plan.left else "the integral of 1 is the variable itself"
    working.step(
        sum_of(bracket(plan.front, plan.constants, plan.integrated(), letter), plan.rest_term()),
        "power-rule",
        f"Raise {'the' if plan.rounds == 1 else 'each'} power by one and divide by the new power; {known}.",
    )
    working.step(plan.answer(), "substitute-back", f"Put the function back for {letter.name}.")


def _lowered_line(plan: TangentPower, rounds: int, square: Expression) -> Expression:
    """The integrals after so many rounds, the number in front of a bracket."""
    tangent, variable = Apply(plan.name, plan.angle.tree), plan.angle.variable
    done = (
        scaled(t.coefficient, Integral(_times_power(tangent, t.exponent, square), variable))
        for t in plan.lowered(rounds)
    )
    rest = Integral(_power(tangent, Fraction(plan.power - 2 * rounds)), variable)
    whole = sum_of(*done, scaled(plan.one**rounds, rest))
    return plan.constants.whole().in_front(plan.coefficient, whole)


def _signed(plan: TangentPower, rounds: int, tree: Expression) -> Expression:
    return plan.constants.whole().in_front(plan.coefficient * plan.one**rounds, tree)


def _power(base: Expression, exponent: Fraction) -> Expression:
    return power_tree(base, exponent) if exponent else Integer(1)


def _times_power(base: Expression, exponent: Fraction, square: Expression) -> Expression:
    return product(power_tree(base, exponent), square) if exponent else square
