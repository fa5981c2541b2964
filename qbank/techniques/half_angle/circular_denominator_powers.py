"""Powers of `p + q cos A` or `p + q sin A` below the line, brought down one by one to the first, which half the angle works.

    int (cos x (5 + 3 cos x) + 3 sin^2 x)/(5 + 3 cos x)^2 dx = sin x/(5 + 3 cos x)           the quotient rule, read backwards
    cos x (5 + 3 cos x) + 3 sin^2 x = 5/3 (5 + 3 cos x) - 16/3
    int 1/(5 + 3 cos x)^2 dx = -3/16 sin x/(5 + 3 cos x) + 5/16 int 1/(5 + 3 cos x) dx

With t = tan(A/2) at once a power of a quadratic would be left, and the answer would hold t alone; in this way it keeps sine and
cosine. Where the numbers p and q are equal up to the sign, t leaves a polynomial, which is shorter.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from qbank.maths.constant_factor import before_integral, in_front, number, over, times
from qbank.maths.expression import (
    Expression,
    Integer,
    Integral,
    Power,
    Quotient,
    Symbol,
    product,
    rational,
    sum_of,
)
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.carrying import carry, letters_of, multiplied
from qbank.techniques.half_angle.denominator_power_slips import SLIPS
from qbank.techniques.half_angle.denominator_powers import DenominatorPowers, denominator_powers
from qbank.techniques.half_angle.letter_kinds import slope
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "circular-denominator-powers"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = denominator_powers(integrand, variable)
    if plan is None or letters_of(plan.base) & integrand.symbols():
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    _opening(working, plan)
    stages = list(plan.stages())
    for stage, lower in pairwise(stages):
        _formula(working, plan, stage.left[0][0])
        working.step(
            plan.shown(lower),
            "recurrence",
            say("Solve this for the integral with the highest power below the line, and put it in."),
        )
    last = stages[-1]
    if last.left:
        front = times(plan.seen.constant, number(last.left[0][1]))
        carry(working, plan.base.lines, lambda line: sum_of(*last.done, multiplied(front, line)))
    if not working.stands(plan.answer()):
        working.step(plan.answer(), "collect", say("Collect like terms."))
    return working.finish()


def _opening(working: Working, plan: DenominatorPowers) -> None:
    """From the integrand as it was written to integrals of one over a power of the bracket."""
    top, below = plan.polynomial(plan.over), plan.raised(plan.power)
    if len(plan.over) == 1:
        line = plan.shown(plan.start())
        if line != Integral(plan.seen.core, plan.variable):
            working.step(line, "constant-factor", say("Take the constants outside the integral."))
        return
    if Quotient(top, below) != plan.seen.core:
        line = before_integral(plan.seen.constant, Integral(Quotient(top, below), plan.variable))
        said = say("Write it as a fraction in one function, with a power of one bracket below the line.")
        working.step(line, "rewrite", said)
    split = _in_brackets(plan, plan.in_brackets())
    if split != top:
        said = say("Write the numerator with the bracket that stands below the line.")
        working.aside(top, split, "split-numerator", said)
    said = say("Take the fraction apart: each term has a power of the bracket below the line.")
    working.step(plan.shown(plan.start()), "split-numerator", said)


def _formula(working: Working, plan: DenominatorPowers, power: int) -> None:
    """How the formula for one power comes about."""
    square = Power(plan.partner, Integer(2))
    q = Fraction((power - 1) * plan.line[1])
    derivative = sum_of(product(plan.function, plan.bracket), scaled(q, square))
    outside = in_front(times(number(plan.sign), over(slope(plan.seen))), plan.outside(power))
    working.balance(
        Integral(Quotient(derivative, plan.raised(power)), plan.variable),
        outside,
        rule="quotient-rule",
        reason=say(
            "Differentiate the right side by the quotient rule and cancel a bracket: the integrand on the left comes out."
        ),
    )
    lowest = plan.slope_in_brackets(power)
    working.aside(
        derivative,
        _in_brackets(plan, lowest),
        "pythagorean-identity",
        say(
            "Write both functions above the line with the bracket; the sum of the squares of sine and cosine is one."
        ),
    )
    integrals = (
        before_integral(number(c), plan.integral(power - place) if power > place else Integer(1))
        for place, c in enumerate(lowest)
        if c
    )
    working.balance(
        sum_of(*integrals),
        outside,
        rule="split-numerator",
        reason=say("So the fraction falls into integrals with powers of the bracket below the line."),
    )


def _in_brackets(plan: DenominatorPowers, coefficients: tuple[Fraction, ...]) -> Expression:
    """A polynomial in the bracket, highest power first."""
    terms = [(place, c) for place, c in enumerate(coefficients) if c]
    return sum_of(*(scaled(c, plan.raised(place)) if place else rational(c) for place, c in reversed(terms)))


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Powers of a + b cos below the line: brought down by the quotient rule",
    work=_work,
    slips=SLIPS,
)
