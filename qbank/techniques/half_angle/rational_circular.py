"""Fractions of sines and cosines with a shorter way than half the angle: an identity, and u is one of the functions.

sin^3 x/(2 + cos x)     int (1 - cos^2 x)/(2 + cos x) sin x dx      u = cos x
1/(1 + cos^2 x)         int 1/(2 + tan^2 x) sec^2 x dx              u = tan x
sin^2 x/(1 + cos x)     int (1 - cos x) dx
"""

from __future__ import annotations

from qbank.maths.constant_factor import before_integral, number, times
from qbank.maths.expression import Apply, Expression, Integer, Integral, Power, Symbol, product
from qbank.maths.factors import Factored
from qbank.maths.tidying import scaled
from qbank.messages import Message, say
from qbank.techniques.carrying import carry, multiplied
from qbank.techniques.circular.split_and_substitute import fact_up_to
from qbank.techniques.half_angle.letter_kinds import InLetter, slope
from qbank.techniques.half_angle.rational_circular_slips import SLIPS
from qbank.techniques.half_angle.shorter_way import Cancelled, shorter_way
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "rational-circular"

#: the factor beside the differential with the sign of the derivative, why the integrand is written so, and the derivative
_BESIDE: dict[str, tuple[str, int, int, Message, Message]] = {
    "cos": (
        "sin",
        1,
        -1,
        say("Keep one sine for the substitution; sine squared is one minus cosine squared."),
        say("The sine beside the differential is the derivative of the cosine"),
    ),
    "sin": (
        "cos",
        1,
        1,
        say("Keep one cosine for the substitution; cosine squared is one minus sine squared."),
        say("The cosine beside the differential is the derivative of the sine"),
    ),
    "tan": (
        "sec",
        2,
        1,
        say("Divide above and below by a power of the cosine: tangents are left, and one secant squared."),
        say("Secant squared is the derivative of the tangent"),
    ),
}


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    way = shorter_way(integrand, variable)
    match way:
        case None:
            return None
        case Cancelled():
            return _cancelled_lines(integrand, variable, way)
        case InLetter():
            return _letter_lines(integrand, variable, way)


def _cancelled_lines(integrand: Expression, variable: Symbol, way: Cancelled) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, variable)
    working.step(
        before_integral(way.seen.constant, Integral(way.core, variable)),
        "cancel",
        say("Sine squared and cosine squared add up to one; with that, everything below the line cancels."),
    )
    carry(working, way.solution.lines, lambda line: multiplied(way.seen.constant, line))
    return working.finish()


def _letter_lines(integrand: Expression, variable: Symbol, way: InLetter) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, variable)
    seen, letter = way.seen, way.letter
    name, power, sign, save, fact = _BESIDE[way.kind.name]
    function = Apply(name, seen.angle.tree)
    beside = function if power == 1 else Power(function, Integer(power))
    rewritten = product(way.outer.substitute({letter: way.meaning}), beside)
    front = times(way.front, slope(seen), number(sign))
    if seen.names <= {"tan", "cot"}:
        save = say("Multiply above and below by secant squared, which is one plus tangent squared.")
    working.step(before_integral(front, Integral(rewritten, variable)), "rewrite", save)
    rate = times(slope(seen), number(sign))
    working.let(
        letter,
        way.meaning,
        _rate_tree(rate, beside),
        fact_up_to(fact, rate.coefficient, seen.angle.unit),
    )
    working.step(
        before_integral(way.front, Integral(way.outer, letter)),
        "substitution",
        say("Write everything in {letter}.", letter=letter.name),
    )
    carry(working, way.solution.lines, lambda line: multiplied(way.front, line))
    working.step(
        way.answer(),
        "substitute-back",
        say(
            "Put the tangent back for {letter}. Where it jumps, the constant may be another one.",
            letter=letter.name,
        )
        if way.jumps
        else say("Put the function back for {letter}.", letter=letter.name),
    )
    return working.finish()


def _rate_tree(rate: Factored, beside: Expression) -> Expression:
    constant = Factored(coefficient=abs(rate.coefficient), powers=rate.powers).tree()
    whole = beside if constant == Integer(1) else product(constant, beside)
    return scaled(-1 if rate.coefficient < 0 else 1, whole)


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Fractions of sines and cosines: u is one of them, or the tangent",
    work=_work,
    slips=SLIPS,
)
