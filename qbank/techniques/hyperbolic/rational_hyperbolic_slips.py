"""What students do when a fraction of hyperbolic functions is written in one of them, or in the exponential.

Each changes one number of the substitution, and the integral in the letter is solved again. All common practice: from
the marking of scripts, not from a published table.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from qbank.maths.constant_factor import number, times
from qbank.maths.expression import Apply, Expression
from qbank.maths.letter_fraction import ONE, polynomial
from qbank.messages import say
from qbank.techniques.carrying import multiplied
from qbank.techniques.half_angle.circle import COSINE, SINE, TANGENT, Value
from qbank.techniques.half_angle.letter_kinds import InLetter, gone_wrong, slip_in, slope
from qbank.techniques.hyperbolic.rational_way import rational_way
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip

__all__ = ["SLIPS"]

_slip = partial(slip_in, rational_way)


#: what the squares are on the circle
_OF_THE_CIRCLE = {"cosh": COSINE.square, "sinh": SINE.square, "tanh": TANGENT.square}


def _changed(way: InLetter, **changes: object) -> Expression | None:
    found = gone_wrong(way, replace(way.kind, **changes))  # type: ignore[arg-type]
    return None if found is None else found.answer()


def _circular_identity(way: InLetter) -> Expression | None:
    square = _OF_THE_CIRCLE.get(way.kind.name)
    if square is None:
        return None
    return _changed(way, circle=replace(way.kind.circle, square=square))


def _minus_given(way: InLetter) -> Expression | None:
    return multiplied(number(-1), way.answer()) if way.kind.name == "cosh" else None


def _differential_not_replaced(way: InLetter) -> Expression | None:
    if way.kind.name not in ("exp", "tanh"):
        return None
    return _changed(way, rate=ONE)


def _halves_lost(way: InLetter) -> Expression | None:
    """`cosh x = u + 1/u`."""
    if way.kind.name != "exp":
        return None
    circle = way.kind.circle
    sine, cosine = (Value(a=one.a.times(polynomial(2))) for one in (circle.sine, circle.cosine))
    return _changed(way, circle=replace(circle, sine=sine, cosine=cosine))


def _minus_of_sinh_lost(way: InLetter) -> Expression | None:
    if way.kind.name != "exp":
        return None
    circle = way.kind.circle
    return _changed(way, circle=replace(circle, sine=circle.cosine))


def _slope_forgotten(way: InLetter) -> Expression:
    return multiplied(slope(way.seen), way.answer())


def _slope_multiplied(way: InLetter) -> Expression:
    return multiplied(times(slope(way.seen), slope(way.seen)), way.answer())


def _partner_back(way: InLetter) -> Expression | None:
    partner = {"cosh": "sinh", "sinh": "cosh", "tanh": "coth"}.get(way.kind.name)
    return None if partner is None else way.answer(Apply(partner, way.seen.angle.tree))


SLIPS = (
    Slip(
        identifier="rational-hyperbolic-identity-of-the-circle",
        sentence=say("Cosh squared minus sinh squared is one: the signs are not those of sine and cosine."),
        answer=_slip(_circular_identity),
    ),
    Slip(
        identifier="rational-hyperbolic-minus-given-to-derivative-of-cosh",
        sentence=say("The derivative of cosh is sinh, with no minus sign."),
        answer=_slip(_minus_given),
    ),
    Slip(
        identifier="rational-hyperbolic-differential-not-replaced",
        sentence=say("The differential must be replaced as well: dx is not du."),
        answer=_slip(_differential_not_replaced),
    ),
    Slip(
        identifier="rational-hyperbolic-halves-lost",
        sentence=say("Sinh and cosh are half the difference and half the sum of the exponentials."),
        answer=_slip(_halves_lost),
    ),
    Slip(
        identifier="rational-hyperbolic-minus-of-sinh-lost",
        sentence=say("Sinh has a minus sign between its two exponentials, cosh a plus sign."),
        answer=_slip(_minus_of_sinh_lost),
    ),
    Slip(
        identifier="rational-hyperbolic-inner-coefficient-forgotten",
        sentence=say("The number inside comes out when you differentiate, so you must divide by it."),
        answer=_slip(_slope_forgotten),
    ),
    Slip(
        identifier="rational-hyperbolic-inner-coefficient-multiplied",
        sentence=say(
            "When integrating, divide by the number inside; multiplying belongs to differentiating."
        ),
        answer=_slip(_slope_multiplied),
    ),
    Slip(
        identifier="rational-hyperbolic-partner-put-back",
        sentence=say("Put back the function that you substituted, not its partner."),
        answer=_slip(_partner_back),
    ),
    differentiated_instead("rational-hyperbolic"),
)
