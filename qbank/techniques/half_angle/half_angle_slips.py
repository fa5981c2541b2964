"""What students do with t = tan(x/2): each changes one of its formulae, and the integral in t is solved again.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias

from qbank.maths.constant_factor import times
from qbank.maths.expression import Apply, Expression
from qbank.maths.letter_fraction import ONE, LetterFraction, polynomial
from qbank.messages import say
from qbank.techniques.half_angle.circle import HALF, Circle, Value
from qbank.techniques.half_angle.half_angle_plan import HalfAngle, half_angle, with_half_angle
from qbank.techniques.half_angle.letter_kinds import HALF_ANGLE, LetterKind, slope
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["SLIPS"]

_Wrong: TypeAlias = Callable[[HalfAngle], Expression | None]


def _slip(wrong: _Wrong) -> Callable[[WorkedSolution], Expression | None]:
    def answer(solution: WorkedSolution) -> Expression | None:
        plan = half_angle(solution.integrand, solution.variable)
        found = None if plan is None else wrong(plan)
        if found is None or found == solution.antiderivative:
            return None
        return found if solution.variable in found.symbols() else None

    return answer


def _with(kind: LetterKind) -> _Wrong:
    def wrong(plan: HalfAngle) -> Expression | None:
        way = with_half_angle(plan, kind)
        return None if way is None else plan.answer(way)

    return wrong


def _rated(rate: LetterFraction) -> _Wrong:
    return _with(replace(HALF_ANGLE, rate=rate))


def _circle(circle: Circle) -> _Wrong:
    return _with(replace(HALF_ANGLE, circle=circle))


_SQUARE = polynomial(1, 0, 1)


def _slope_forgotten(plan: HalfAngle) -> Expression:
    front = times(plan.way.front, slope(plan.way.seen))
    return plan.answer(replace(plan.way, front=front))


def _slope_multiplied(plan: HalfAngle) -> Expression:
    by = slope(plan.way.seen)
    return plan.answer(replace(plan.way, front=times(plan.way.front, by, by)))


def _whole_angle_back(plan: HalfAngle) -> Expression:
    """`tan x` for t."""
    return plan.answer(meaning=Apply("tan", plan.way.seen.angle.tree))


SLIPS = (
    Slip(
        identifier="half-angle-two-of-differential-lost",
        sentence=say("The differential dx is two dt over one plus t squared: the two belongs to it."),
        answer=_slip(_rated(_SQUARE.inverse())),
    ),
    Slip(
        identifier="half-angle-square-below-differential-forgotten",
        sentence=say(
            "The differential dx is two dt over one plus t squared: do not forget what is below the line."
        ),
        answer=_slip(_rated(polynomial(2))),
    ),
    Slip(
        identifier="half-angle-differential-not-replaced",
        sentence=say("The differential must be replaced as well: dx is not dt."),
        answer=_slip(_rated(ONE)),
    ),
    Slip(
        identifier="half-angle-cosine-upside-down",
        sentence=say(
            "The cosine is one minus t squared over one plus t squared; it can never be larger than one."
        ),
        answer=_slip(_circle(replace(HALF, cosine=Value(a=HALF.cosine.a.inverse())))),
    ),
    Slip(
        identifier="half-angle-sign-of-cosine",
        sentence=say("Put in t equal to zero: the cosine of zero is plus one."),
        answer=_slip(_circle(replace(HALF, cosine=Value(a=HALF.cosine.a.times(polynomial(-1)))))),
    ),
    Slip(
        identifier="half-angle-two-of-sine-lost",
        sentence=say("The sine is two t over one plus t squared: the two comes from the double angle."),
        answer=_slip(_circle(replace(HALF, sine=Value(a=polynomial(0, 1).times(_SQUARE.inverse()))))),
    ),
    Slip(
        identifier="half-angle-sine-and-cosine-interchanged",
        sentence=say("Put in t equal to zero: there the sine is zero and the cosine one."),
        answer=_slip(_circle(replace(HALF, sine=HALF.cosine, cosine=HALF.sine))),
    ),
    Slip(
        identifier="half-angle-whole-angle-put-back",
        sentence=say("The letter t stands for the tangent of half the angle, not of the whole angle."),
        answer=_slip(_whole_angle_back),
    ),
    Slip(
        identifier="half-angle-inner-coefficient-forgotten",
        sentence=say(
            "The number inside the angle comes out when you differentiate, so you must divide by it."
        ),
        answer=_slip(_slope_forgotten),
    ),
    Slip(
        identifier="half-angle-inner-coefficient-multiplied",
        sentence=say(
            "When integrating, divide by the number inside the angle; multiplying belongs to differentiating."
        ),
        answer=_slip(_slope_multiplied),
    ),
    differentiated_instead("half-angle"),
)
