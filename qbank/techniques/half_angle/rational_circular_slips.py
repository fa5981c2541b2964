"""What students do when a fraction of sines and cosines is written in one of them, or in the tangent.

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
from qbank.techniques.half_angle.letter_kinds import InLetter, LetterKind, gone_wrong, slip_in, slope
from qbank.techniques.half_angle.shorter_way import shorter_way
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip

__all__ = ["SLIPS"]

_slip = partial(slip_in, shorter_way)


def _with(way: InLetter, kind: LetterKind) -> Expression | None:
    changed = gone_wrong(way, kind)
    return None if changed is None else changed.answer()


def _minus_lost(way: InLetter) -> Expression | None:
    return multiplied(number(-1), way.answer()) if way.kind.name == "cos" else None


def _plus_in_identity(way: InLetter) -> Expression | None:
    """`sin^2 = 1 + cos^2`, or `1 - tan^2 = sec^2`."""
    square = polynomial(1, 0, -1).inverse() if way.kind.name == "tan" else polynomial(1, 0, 1)
    kind = replace(way.kind, circle=replace(way.kind.circle, square=square))
    return _with(way, kind)


def _secant_lost(way: InLetter) -> Expression | None:
    """The integrand in tangents, with du for dx."""
    if way.kind.name != "tan":
        return None
    return _with(way, replace(way.kind, rate=ONE))


def _slope_forgotten(way: InLetter) -> Expression:
    return multiplied(slope(way.seen), way.answer())


def _slope_multiplied(way: InLetter) -> Expression:
    return multiplied(times(slope(way.seen), slope(way.seen)), way.answer())


def _partner_back(way: InLetter) -> Expression:
    partner = {"cos": "sin", "sin": "cos", "tan": "cot"}[way.kind.name]
    return way.answer(Apply(partner, way.seen.angle.tree))


SLIPS = (
    Slip(
        identifier="rational-circular-minus-of-cosine-derivative-lost",
        sentence=say("The derivative of the cosine is minus the sine: the substitution brings a minus sign."),
        answer=_slip(_minus_lost),
    ),
    Slip(
        identifier="rational-circular-sign-in-identity",
        sentence=say("Check the sign in the identity for the square by putting in an angle that you know."),
        answer=_slip(_plus_in_identity),
    ),
    Slip(
        identifier="rational-circular-secant-squared-lost",
        sentence=say(
            "With u for the tangent, dx is du over one plus u squared: do not simply write du for dx."
        ),
        answer=_slip(_secant_lost),
    ),
    Slip(
        identifier="rational-circular-inner-coefficient-forgotten",
        sentence=say(
            "The number inside the angle comes out when you differentiate, so you must divide by it."
        ),
        answer=_slip(_slope_forgotten),
    ),
    Slip(
        identifier="rational-circular-inner-coefficient-multiplied",
        sentence=say(
            "When integrating, divide by the number inside the angle; multiplying belongs to differentiating."
        ),
        answer=_slip(_slope_multiplied),
    ),
    Slip(
        identifier="rational-circular-partner-put-back",
        sentence=say("Put back the function that you substituted, not its partner."),
        answer=_slip(_partner_back),
    ),
    differentiated_instead("rational-circular"),
)
