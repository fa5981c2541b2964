"""What students do when a fraction of sines and cosines is written in one of them, or in the tangent.

Each changes one number of the substitution, and the integral in the letter is solved again. All common practice: from
the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial

from qbank.maths.constant_factor import number, times
from qbank.maths.expression import Apply, Expression, Quotient
from qbank.maths.letter_fraction import ONE, polynomial
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.carrying import multiplied
from qbank.techniques.half_angle.letter_kinds import InLetter, LetterKind, gone_wrong, slip_in, slope
from qbank.techniques.half_angle.shorter_way import Cancelled, shorter_way
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

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


def _cancelled(identifier: str, sentence: str, wrong: Callable[[Cancelled], Expression | None]) -> Slip:
    """A slip where nothing is left below the line."""

    def answer(solution: WorkedSolution) -> Expression | None:
        way = shorter_way(solution.integrand, solution.variable)
        if not isinstance(way, Cancelled):
            return None
        found = wrong(way)
        return None if found is None else multiplied(way.seen.constant, found)

    return Slip(identifier=f"rational-circular-{identifier}", sentence=sentence, answer=answer)


def _of_solution(slip: Slip) -> Slip:
    """A slip in the working of what is left when everything below the line has gone."""
    return _cancelled(slip.identifier, slip.sentence, lambda way: slip.answer(way.solution))


def _function_cancelled(way: Cancelled) -> Expression | None:
    """`sin 3x/sin x` taken for 3."""
    match way.seen.core:
        case Quotient(Apply(name, above), Apply(other, below)) if name == other:
            multiples = dict(way.seen.multiples)
            return scaled(Fraction(multiples[above], multiples[below]), way.solution.variable)
        case _:
            return None


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
    _cancelled(
        "function-cancelled",
        say(
            "The name of a function is not a factor: the sine of three times an angle is not three times its sine."
        ),
        _function_cancelled,
    ),
    _of_solution(sign_of_a_term_lost("cancelled")),
    _of_solution(last_term_lost("cancelled")),
)
