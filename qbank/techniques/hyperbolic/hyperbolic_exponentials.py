"""Hyperbolic functions times exponentials, or of different arguments: everything by exponentials, multiplied out.

e^(2x) sinh 3x       1/2 (e^(5x) - e^(-x))
sinh 2x cosh 3x      1/2 (sinh 5x - sinh x), by way of the exponentials
"""

from __future__ import annotations

from fractions import Fraction
from math import gcd, lcm

from qbank.maths.constant_factor import before_integral, number, times
from qbank.maths.expression import (
    E,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Quotient,
    Symbol,
    fraction,
    product,
    sum_of,
)
from qbank.maths.tidying import scaled
from qbank.messages import Message, say
from qbank.techniques.circular.angle_sums import AngleSum
from qbank.techniques.hyperbolic.exponential_plan import ExponentialPlan, Piece, exponential_plan
from qbank.techniques.hyperbolic.exponential_slips import SLIPS
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "hyperbolic-exponentials"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = exponential_plan(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    defined = Integral(_defined(plan), variable)
    working.step(before_integral(plan.constant, defined), "definition", _definition(plan))
    _collected(working, plan, plan.expanded(), say("Multiply out: exponents are added."))
    if plan.in_pairs:
        _collected(working, plan, plan.paired(), say("Put the exponentials together again, in pairs."))
    working.step(plan.answer(), "standard-integral", _last_reason(plan))
    return working.finish()


def _collected(working: Working, plan: ExponentialPlan, pieces: tuple[Piece, ...], reason: Message) -> None:
    """The line with a sum of pieces, what they have in common in front."""
    numbers = [piece.number for piece in pieces]
    common = Fraction(gcd(*(n.numerator for n in numbers)), lcm(*(n.denominator for n in numbers)))
    whole = sum_of(*(scaled(piece.number / common, piece.tree()) for piece in pieces))
    front = times(plan.constant, number(common))
    working.step(before_integral(front, Integral(whole, plan.variable)), "expand", reason)


def _defined(plan: ExponentialPlan) -> Expression:
    """The product with the definitions put in."""
    found: dict[Expression, int] = {}
    for name, angle in plan.factors:
        tree = Power(E, angle.tree) if name == "exp" else _definition_tree(angle, minus=name == "sinh")
        found[tree] = found.get(tree, 0) + 1
    return product(*(tree if n == 1 else Power(tree, Integer(n)) for tree, n in found.items()))


def _definition_tree(angle: AngleSum, *, minus: bool) -> Expression:
    zero = AngleSum(variable=angle.variable, moving=(), number=fraction(0, 1), others=())
    second = Power(E, zero.plus(angle, -1).tree)
    return Quotient(sum_of(Power(E, angle.tree), Negate(second) if minus else second), Integer(2))


def _definition(plan: ExponentialPlan) -> Message:
    names = {name for name, _ in plan.factors}
    if "cosh" not in names:
        return say("Sinh is half the difference of two exponentials.")
    if "sinh" not in names:
        return say("Cosh is half the sum of two exponentials.")
    return say("Sinh is half the difference of two exponentials, cosh half their sum.")


def _last_reason(plan: ExponentialPlan) -> Message:
    if all(piece.angle.slope == number(1) for piece in plan.pieces() if piece.angle.moving):
        return say("Integrate term by term.")
    if plan.in_pairs:
        return say("Integrate term by term, dividing by the number inside.")
    return say("Integrate term by term, dividing by the number in the exponent.")


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Hyperbolic functions written with exponentials",
    work=_work,
    slips=SLIPS,
)
