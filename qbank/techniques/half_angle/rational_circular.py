"""Fractions of sines and cosines with a shorter way than half the angle: an identity, and u is one of the functions.

sin^3 x/(2 + cos x)     int (1 - cos^2 x)/(2 + cos x) sin x dx      u = cos x
1/(1 + cos^2 x)         int 1/(2 + tan^2 x) sec^2 x dx              u = tan x
sin^2 x/(1 + cos x)     int (1 - cos x) dx
"""

from __future__ import annotations

from qbank.maths.constant_factor import before_integral
from qbank.maths.expression import Expression, Integral, Symbol
from qbank.messages import say
from qbank.techniques.carrying import carry, multiplied
from qbank.techniques.half_angle.beside_lines import beside_lines
from qbank.techniques.half_angle.letter_kinds import InLetter
from qbank.techniques.half_angle.rational_circular_slips import SLIPS
from qbank.techniques.half_angle.shorter_way import Cancelled, shorter_way
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "rational-circular"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    way = shorter_way(integrand, variable)
    match way:
        case None:
            return None
        case Cancelled():
            return _cancelled_lines(integrand, variable, way)
        case InLetter():
            working = Working(_IDENTIFIER, integrand, variable)
            beside_lines(working, way)
            return working.finish()


def _cancelled_lines(integrand: Expression, variable: Symbol, way: Cancelled) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, variable)
    working.step(
        before_integral(way.seen.constant, Integral(way.core, variable)),
        "cancel",
        say("Sine squared and cosine squared add up to one; with that, everything below the line cancels.")
        if way.seen.single
        else say(
            "Write the multiples of the angle with the angle itself; then everything below the line cancels."
        ),
    )
    carry(working, way.solution.lines, lambda line: multiplied(way.seen.constant, line))
    return working.finish()


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Fractions of sines and cosines: u is one of them, or the tangent",
    work=_work,
    slips=SLIPS,
)
