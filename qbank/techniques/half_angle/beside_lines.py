"""The lines of a substitution where u is one of the functions, and its derivative stands beside the differential."""

from __future__ import annotations

from qbank.maths.constant_factor import before_integral, number, times
from qbank.maths.expression import Apply, Expression, Integer, Integral, Power, product
from qbank.maths.factors import Factored
from qbank.maths.tidying import scaled
from qbank.messages import Message, say
from qbank.techniques.carrying import carry, multiplied
from qbank.techniques.circular.split_and_substitute import fact_up_to
from qbank.techniques.half_angle.letter_kinds import InLetter, slope
from qbank.techniques.working import Working

__all__ = ["beside_lines"]

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
    "cosh": (
        "sinh",
        1,
        1,
        say("Keep one sinh for the substitution; sinh squared is cosh squared minus one."),
        say("The sinh beside the differential is the derivative of cosh"),
    ),
    "sinh": (
        "cosh",
        1,
        1,
        say("Keep one cosh for the substitution; cosh squared is one plus sinh squared."),
        say("The cosh beside the differential is the derivative of sinh"),
    ),
    "tanh": (
        "sech",
        2,
        1,
        say("Divide above and below by a power of cosh: tanh is left, and one sech squared."),
        say("Sech squared is the derivative of tanh"),
    ),
}


def beside_lines(working: Working, way: InLetter) -> None:
    """Write the lines from the integrand to the answer.

    Args:
        working: where the lines go.
        way: the substitution, u one of the functions.
    """
    seen, letter, variable = way.seen, way.letter, way.seen.angle.variable
    name, power, sign, save, fact = _BESIDE[way.kind.name]
    function = Apply(name, seen.angle.tree)
    beside = function if power == 1 else Power(function, Integer(power))
    rewritten = product(way.outer.substitute({letter: way.meaning}), beside)
    front = times(way.front, slope(seen), number(sign))
    if way.kind.name == "tan" and seen.names <= {"tan", "cot"}:
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
    carry(working, way.lines, lambda line: multiplied(way.front, line))
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


def _rate_tree(rate: Factored, beside: Expression) -> Expression:
    constant = Factored(coefficient=abs(rate.coefficient), powers=rate.powers).tree()
    whole = beside if constant == Integer(1) else product(constant, beside)
    return scaled(-1 if rate.coefficient < 0 else 1, whole)
