"""The substitution t = tan(x/2), which makes any fraction of sines and cosines a fraction of polynomials.

1/(5 + 4 cos x)     int 1/(5 + 4 (1 - t^2)/(1 + t^2)) * 2/(1 + t^2) dt = int 2/(t^2 + 9) dt
sin x/(1 + sin x)   1 - 1/(1 + sin x) first: what can be divided off is divided off

The tangent of half the angle jumps where x is an odd multiple of pi (of the angle), so the constant of the answer may be
another one on each side of such a place.
"""

from __future__ import annotations

from qbank.maths.constant_factor import before_integral
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Differential,
    Expression,
    Integral,
    Symbol,
    product,
    sum_of,
)
from qbank.messages import say
from qbank.techniques.carrying import carry, multiplied
from qbank.techniques.half_angle.half_angle_plan import HalfAngle, half_angle
from qbank.techniques.half_angle.half_angle_slips import SLIPS
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "half-angle-substitution"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = half_angle(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    if plan.divided is not None:
        rest = before_integral(plan.way.seen.constant, Integral(plan.way.seen.core, variable))
        working.step(
            before_integral(plan.constant, Integral(plan.divided, variable)),
            "divide",
            say("Divide: a whole part comes off, and a simpler fraction is left."),
        )
        working.step(sum_of(plan.done, rest), "standard-integral", say("Integrate the whole part."))
    _letter_lines(working, plan)
    return working.finish()


def _letter_lines(working: Working, plan: HalfAngle) -> None:
    way = plan.way
    letter = way.letter
    values = plan.values()

    def beside(line: Expression) -> Expression:
        return line if plan.divided is None else sum_of(plan.done, line)

    working.let_be(
        letter,
        way.meaning,
        *(Equation(function, value) for function, value in values.items()),
        Equation(Differential(plan.variable), product(plan.rate(), Differential(letter))),
        reason=say(
            "Let {letter} be the tangent of half the angle: all functions of the angle are fractions in it.",
            letter=letter.name,
        ),
    )
    working.step(
        beside(before_integral(way.seen.constant, Integral(plan.raw(values), letter))),
        "substitution",
        say("Write everything in {letter}.", letter=letter.name),
    )
    simple = before_integral(way.front, Integral(way.outer, letter))
    working.step(
        beside(simple),
        "simplify",
        say("Multiply above and below by one plus {letter} squared, and simplify.", letter=letter.name),
    )
    carry(working, way.lines, lambda line: beside(multiplied(way.front, line)))
    put_back = beside(way.answer())
    working.step(
        put_back,
        "substitute-back",
        say(
            "Put the tangent of half the angle back for {letter}. Where it jumps, the constant may be another one.",
            letter=letter.name,
        )
        if way.jumps
        else say("Put the tangent of half the angle back for {letter}.", letter=letter.name),
    )
    if plan.answer() != put_back:
        working.step(plan.answer(), "collect", say("Collect like terms."))


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Substitution: t is the tangent of half the angle",
    work=_work,
    slips=SLIPS,
)
