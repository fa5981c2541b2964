"""Fractions of hyperbolic functions, and of exponentials with these: u is one of them, or everything by u = e^x.

sinh^3 x/(1 + cosh x)^2     int (cosh x - 1)/(cosh x + 1) sinh x dx     u = cosh x
1/(1 + cosh x)              int 2/(u + 1)^2 du                          u = e^x
"""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.constant_factor import before_integral, in_front, over
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Differential,
    E,
    Expression,
    Integer,
    Integral,
    Power,
    Quotient,
    Symbol,
    difference,
    product,
    sum_of,
)
from qbank.maths.factors import power_tree
from qbank.messages import say
from qbank.techniques.carrying import carry, multiplied
from qbank.techniques.half_angle.beside_lines import beside_lines
from qbank.techniques.half_angle.letter_kinds import InLetter, slope
from qbank.techniques.half_angle.shorter_way import Cancelled
from qbank.techniques.hyperbolic.rational_hyperbolic_slips import SLIPS
from qbank.techniques.hyperbolic.rational_way import rational_way
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "rational-hyperbolic"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    way = rational_way(integrand, variable)
    if way is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    if isinstance(way, Cancelled):
        working.step(
            before_integral(way.seen.constant, Integral(way.core, variable)),
            "cancel",
            say("Cosh squared less sinh squared is one; with that, everything below the line cancels."),
        )
        carry(working, way.solution.lines, lambda line: multiplied(way.seen.constant, line))
    elif way.kind.name == "exp":
        _exponential_lines(working, way)
    else:
        beside_lines(working, way)
    return working.finish()


def _exponential_lines(working: Working, way: InLetter) -> None:
    seen, letter, variable = way.seen, way.letter, way.seen.angle.variable
    rate = in_front(over(slope(seen)), Quotient(Integer(1), letter))
    values = _values(way)
    functions = {tree: value for tree, value in values.items() if isinstance(tree, Apply)}
    working.let_be(
        letter,
        way.meaning,
        *(Equation(tree, value) for tree, value in functions.items()),
        Equation(Differential(variable), product(rate, Differential(letter))),
        reason=say(
            "Let {letter} be the exponential: hyperbolic functions are fractions in it.", letter=letter.name
        ),
    )

    def put(tree: Expression) -> Expression:
        return values.get(tree) or tree.rebuild(put)

    working.step(
        before_integral(seen.constant, Integral(product(put(seen.core), rate), letter)),
        "substitution",
        say("Write everything in {letter}.", letter=letter.name),
    )
    working.step(
        before_integral(way.front, Integral(way.outer, letter)),
        "simplify",
        say("Clear the fractions within the fraction, and simplify."),
    )
    carry(working, way.lines, lambda line: multiplied(way.front, line))
    working.step(
        way.answer(), "substitute-back", say("Put the exponential back for {letter}.", letter=letter.name)
    )


def _values(way: InLetter) -> dict[Expression, Expression]:
    """Each function and each exponential that occurs, in u."""
    found = dict[Expression, Expression]()
    multiples = dict(way.seen.multiples)
    for node in way.seen.core.walk():
        match node:
            case Apply(name, argument):
                found[node] = _in_exponential(name, multiples[argument], way.letter)
            case Power(base, exponent) if base == E:
                found[node] = power_tree(way.letter, Fraction(multiples[exponent]))
            case _:
                pass
    return found


def _in_exponential(name: str, n: int, u: Symbol) -> Expression:
    """A function of n times the argument, u being the exponential of the argument."""
    if n < 0:
        value = _in_exponential(name, -n, u)
        return value if name in ("cosh", "sech") else -value
    square = Power(u, Integer(2 * n))
    plus, minus = sum_of(square, Integer(1)), difference(square, Integer(1))
    twice = product(Integer(2), power_tree(u, Fraction(n)))
    pairs = {
        "sinh": (minus, twice),
        "cosh": (plus, twice),
        "tanh": (minus, plus),
        "sech": (twice, plus),
        "cosech": (twice, minus),
        "coth": (plus, minus),
    }
    return power_tree(u, Fraction(n)) if name == "exp" else Quotient(*pairs[name])


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Fractions of hyperbolic functions: u is one of them, or the exponential",
    work=_work,
    slips=SLIPS,
)
