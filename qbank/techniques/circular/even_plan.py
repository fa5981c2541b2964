"""Even powers of sine and cosine, or of sinh and cosh: the numbers of the working and its lines.

A slip changes one of the numbers, and the plan runs on to the end.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias, TypeVar

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Quotient,
    fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.tidying import scaled
from qbank.messages import Message, say
from qbank.techniques.circular.angles import ONE, Constants
from qbank.techniques.circular.circular_powers import CircularPowers
from qbank.techniques.circular.double_angles import Combination, DoubleAngles, Piece, content, is_ready
from qbank.techniques.working import Working

__all__ = ["CosineRule", "EvenFamily", "EvenPlan", "EvenWords", "even_lines"]

_Part = TypeVar("_Part")

#: what is done with the number inside the angle when a cosine is integrated
CosineRule: TypeAlias = Literal["divided", "forgotten", "multiplied", "differentiated"]


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenWords:
    """What the teacher says: at the identities, and at the last line, where a number is divided by or powers are left."""

    sine: Message
    cosine: Message
    product: Message
    product_and_sine: Message
    product_and_cosine: Message
    divided: Message
    powers: Message
    powers_divided: Message


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenFamily:
    """Sine and cosine, or sinh and cosh.

    Attributes:
        sine: the name of the sine.
        cosine: the name of the cosine.
        derivative: the sign of the derivative of the cosine.
        falling: whether the largest multiple of the angle is written first, the number last.
        words: what the teacher says.
    """

    sine: str
    cosine: str
    derivative: int
    falling: bool
    words: EvenWords

    @property
    def names(self) -> tuple[str, str]:
        """Both names."""
        return self.sine, self.cosine

    def in_order(self, parts: tuple[_Part, ...]) -> tuple[_Part, ...]:
        """Pieces in the order in which they are written."""
        return parts[::-1] if self.falling else parts


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenPlan:
    """The numbers of one working.

    Attributes:
        family: sine and cosine, or sinh and cosh.
        seen: the integrand.
        sine: the power of the sine.
        cosine: the power of the cosine.
        identities: as the student remembers them.
        rule: what is done with the number inside the angle of a cosine; anything but "divided" is a slip.
    """

    family: EvenFamily
    seen: CircularPowers
    sine: int
    cosine: int
    identities: DoubleAngles
    rule: CosineRule = "divided"

    @property
    def start(self) -> Combination:
        """The integrand without its coefficient."""
        return ((Piece.of(1, self.sine, self.cosine), fraction(1, 1)),)

    def integrated(self, combination: Combination) -> Combination:
        """The numbers before x, sin(tA) and powers of it, under the same pieces."""
        return tuple((piece, number * self._factor(piece)) for piece, number in combination)

    def _factor(self, piece: Piece) -> Fraction:
        if not piece.times:
            return fraction(1, 1)
        slope = self.seen.angle.slope * piece.times
        if self.rule == "differentiated" and not piece.sine:
            return self.family.derivative * slope
        by = {"forgotten": fraction(1, 1), "multiplied": 1 / slope}.get(self.rule, slope)
        return 1 / (by * (piece.sine + 1))

    def constants(self, piece: Piece) -> Constants:
        """The constants before the integral of a piece that are not rational."""
        constants = self.seen.constants
        if not piece.times or self.rule == "forgotten":
            return constants.whole()
        multiplied = self.rule == "multiplied" or (self.rule == "differentiated" and not piece.sine)
        return constants.inverted() if multiplied else constants

    def outcome(self) -> tuple[tuple[Piece, Fraction, Constants], ...]:
        """What two plans have in common exactly when they lead to one answer."""
        result = self.integrated(self.identities.finished(self.start))
        return tuple((piece, number, self.constants(piece)) for piece, number in result)

    def answer(self) -> Expression:
        """The antiderivative, multiplied out."""
        terms = (
            scaled(self.seen.coefficient * number, constants.applied(self.body(piece)))
            for piece, number, constants in self.family.in_order(self.outcome())
        )
        return sum_of(*terms)

    def bracket(self, front: Fraction, result: Combination) -> Expression:
        """The antiderivative with the number and the constant still in front."""
        unit = Constants(over=self.seen.angle.unit)
        terms = (
            scaled(number, unit.applied(self.body(piece)) if piece.times else self.body(piece))
            for piece, number in self.family.in_order(result)
        )
        return self.seen.constants.whole().in_front(front, sum_of(*terms))

    def function(self, name: str, times: int) -> Expression:
        """A function of a multiple of the angle."""
        return Apply(name, self.seen.angle.times(times).tree)

    def body(self, piece: Piece) -> Expression:
        """What the integral of a piece is a multiple of."""
        if not piece.times:
            return self.seen.angle.variable
        return product(*_raised(self.function(self.family.sine, piece.times), piece.sine + 1))


def even_lines(working: Working, plan: EvenPlan) -> None:
    """Write the lines from the product of two even powers to the answer.

    Args:
        working: where the lines go.
        plan: the numbers, without a slip.
    """
    front, combination = _take_apart(working, plan)
    bracket = plan.bracket(front, plan.integrated(combination))
    working.step(bracket, "standard-integral", _last_reason(plan, combination))
    if bracket != plan.answer():
        working.step(plan.answer(), "expand", say("Multiply out."))


def _take_apart(working: Working, plan: EvenPlan) -> tuple[Fraction, Combination]:
    """Write the rounds; the number in front at the end, and the pieces that can be integrated at sight."""
    angle, combination, front = plan.seen.angle, plan.start, plan.seen.coefficient
    before = plan.seen.constants.whole().in_front
    again = False
    while not all(is_ready(piece) for piece, _ in combination):
        pieces = plan.family.in_order(combination)
        replaced = sum_of(*(_times(number, _apart_tree(plan, piece)) for piece, number in pieces))
        line = before(front, Integral(replaced, angle.variable))
        working.step(line, "double-angle", _reason(plan, combination, again=again))
        gathered = _gathering_reason(combination)
        combination = plan.identities.round(combination)
        common = content(combination)
        combination = tuple((piece, number / common) for piece, number in combination)
        front *= common
        pieces = plan.family.in_order(combination)
        expanded = sum_of(*(scaled(number, _piece_tree(plan, piece)) for piece, number in pieces))
        working.step(before(front, Integral(expanded, angle.variable)), "expand", gathered)
        again = True
    return front, combination


def _reason(plan: EvenPlan, combination: Combination, *, again: bool) -> Message:
    if again:
        odd = any(piece.cosine % 2 and not is_ready(piece) for piece, _ in combination)
        even = any(not piece.cosine % 2 and piece.times for piece, _ in combination)
        if odd and even:
            return say(
                "Use the double angle again for the even powers; write an odd power with one factor split off."
            )
        if odd:
            return say("Write an odd power with one factor split off.")
        return say("Use the double angle again for the even powers.")
    piece = combination[0][0]
    words = plan.family.words
    if piece.sine == piece.cosine:
        return words.product
    if piece.cosine > piece.sine:
        return words.product_and_cosine if piece.sine else words.cosine
    return words.product_and_sine if piece.cosine else words.sine


def _gathering_reason(combination: Combination) -> Message:
    piece = combination[0][0]
    alone = len(combination) == 1 and not piece.cosine % 2
    if alone and (piece.sine == piece.cosine or piece.sine + piece.cosine == 2):
        return say("Take the number outside the integral.")
    return say("Multiply out and collect.")


def _last_reason(plan: EvenPlan, combination: Combination) -> Message:
    powers = any(piece.sine for piece, _ in combination)
    angle, words = plan.seen.angle, plan.family.words
    bare = angle.unit == ONE and all(abs(angle.slope) * piece.times in (0, 1) for piece, _ in combination)
    if powers:
        return words.powers if bare else words.powers_divided
    return say("Integrate term by term.") if bare else words.divided


def _times(number: Fraction, tree: Expression) -> Expression:
    """A number in front of a factor that keeps its shape when the number is 1."""
    return tree if number == 1 else Negate(tree) if number == -1 else scaled(number, tree)


def _raised(base: Expression, exponent: int) -> tuple[Expression, ...]:
    if not exponent:
        return ()
    return (base,) if exponent == 1 else (Power(base, Integer(exponent)),)


def _piece_tree(plan: EvenPlan, piece: Piece) -> Expression:
    """`sin^i(tA) cos^j(tA)`, or 1."""
    if not piece.times:
        return Integer(1)
    sine, cosine = (plan.function(name, piece.times) for name in plan.family.names)
    return product(*_raised(sine, piece.sine), *_raised(cosine, piece.cosine))


def _apart_tree(plan: EvenPlan, piece: Piece) -> Expression:
    """A piece after the identity has been put in, before anything is multiplied out."""
    if is_ready(piece):
        return _piece_tree(plan, piece)
    if piece.cosine % 2:
        sine, cosine = (plan.function(name, piece.times) for name in plan.family.names)
        bracket = sum_of(Integer(1), scaled(plan.identities.odd[1], Power(sine, Integer(2))))
        return product(*_raised(sine, piece.sine), *_raised(bracket, piece.cosine // 2), cosine)
    sine, cosine = (plan.function(name, 2 * piece.times) for name in plan.family.names)
    common, pairs = min(piece.sine, piece.cosine), abs(piece.sine - piece.cosine) // 2
    first, second = plan.identities.of_cosine if piece.cosine > piece.sine else plan.identities.of_sine
    terms = (rational(first), scaled(second, cosine))
    half = Quotient(sum_of(*(terms[::-1] if plan.family.falling else terms)), Integer(2))
    return product(*_raised(product(rational(1, 2), sine), common), *_raised(half, pairs))
