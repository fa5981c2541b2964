"""Rules of integration used where they do not hold, with the answer that follows (common practice).

The answers are not refuted here: where the derivative happens to stand beside it, a rule may be right after all.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from qbank.maths.constant_factor import split_constant
from qbank.maths.derivative import derivative
from qbank.maths.equation import Equation
from qbank.maths.expression import Apply, E, Expression, Power, Quotient, Symbol, fraction, product, rational
from qbank.maths.factors import Factored, factored
from qbank.maths.tidying import tidy
from qbank.messages import prose, say
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.first_step import FirstStep, fits
from qbank.techniques.opening import Pieces
from qbank.techniques.planner import solve
from qbank.techniques.standard.linear_inner import as_inner

__all__ = ["Misused", "misused_rules", "moving_factors"]


class Misused(NamedTuple):
    """A rule where it does not hold: its identifier, the step, what to say, and the answer that follows."""

    name: str
    shown: Pieces
    why: Pieces
    answer: Expression


def moving_factors(integrand: Expression, variable: Symbol) -> tuple[Expression, ...]:
    """The factors that hold the variable, without the constant in front."""
    _, rest = split_constant(integrand, variable)
    return tuple(Factored(coefficient=fraction(1, 1), powers=(pair,)).tree() for pair in rest.powers)


def misused_rules(integrand: Expression, variable: Symbol) -> Iterator[Misused]:
    """The rules that a student might misuse on an integrand.

    >>> x = Symbol("x")
    >>> [misused.name for misused in misused_rules(x * Power(E, x), x)][0]
    'factors-integrated-separately'
    """
    moving = moving_factors(integrand, variable)
    above, below = _halves(moving)
    if len(moving) > 1 and not below:
        integrals = _integrals(moving, variable)
        if integrals is not None:
            shown: Pieces = (say("Integrate each factor by itself and multiply the results."),)
            why: Pieces = (say("The integral of a product is not the product of the integrals."),)
            yield Misused("factors-integrated-separately", shown, why, product(*integrals))
    if above and below:
        integrals = _integrals((product(*above), product(*below)), variable)
        if integrals is not None:
            shown = (say("Integrate the numerator and the denominator by themselves."),)
            why = (say("The integral of a quotient is not the quotient of the integrals."),)
            yield Misused("quotient-integrated-separately", shown, why, Quotient(*integrals))
    for place, front in enumerate(moving[:2] if len(moving) > 1 else ()):
        rest = solve(tidy(product(*moving[:place], *moving[place + 1 :])), variable)
        if rest is not None and not isinstance(front, Quotient):
            shown = prose("Take {factor} in front of the integral.", factor=front)
            why = (say("Only a number may be taken in front of the integral: this factor varies."),)
            yield Misused("variable-taken-out", shown, why, product(front, rest.antiderivative))
    slope = derivative(integrand, variable)
    if variable in slope.symbols():
        yield _differentiated(slope, product_rule=len(moving) > 1, quotient_rule=bool(above and below))
    letter = spare_letter(integrand)
    for base, exponent in factored(integrand).powers:
        if variable not in base.symbols() or as_inner(base, variable) or base == E:
            continue
        if fits(FirstStep(Equation(letter, base), ""), integrand, variable):
            continue  # then its derivative stands beside it, and the rule is nearly right
        if exponent == -1:
            shown = prose("Take the logarithm of {denominator} as the integral.", denominator=base)
            why = (say("The logarithm needs the derivative of the denominator above it."),)
            yield Misused("logarithm-of-a-denominator", shown, why, Apply("ln", Apply("abs", base)))
        elif not isinstance(base, Power) and exponent > 0:
            shown = prose("Raise the power of {function} by one and divide by the new power.", function=base)
            why = (say("The power rule needs the derivative of the function beside it."),)
            raised = Power(base, rational(exponent + 1)) / rational(exponent + 1)
            others = Factored(
                coefficient=fraction(1, 1),
                powers=tuple(p for p in factored(integrand).powers if p[0] != base),
            )
            yield Misused("function-raised-like-a-variable", shown, why, product(raised, others.tree()))


def _differentiated(slope: Expression, *, product_rule: bool, quotient_rule: bool) -> Misused:
    """A rule of differentiation used where an integral is asked for."""
    name, shown = "differentiated-instead", say("Differentiate the integrand.")
    if quotient_rule:
        name, shown = "quotient-rule-used", say("Use the quotient rule on the numerator and the denominator.")
    elif product_rule:
        name, shown = "product-rule-used", say("Use the product rule on the factors.")
    why = say("This is a way to differentiate; the question asks for the integral.")
    return Misused(name, (shown,), (why,), slope)


def _halves(moving: tuple[Expression, ...]) -> tuple[list[Expression], list[Expression]]:
    """The factors above the line and those below it."""
    above, below = [], []
    for part in moving:
        if isinstance(part, Quotient):
            below.append(part.denominator)
        else:
            above.append(part)
    return above, below


def _integrals(parts: tuple[Expression, ...], variable: Symbol) -> tuple[Expression, ...] | None:
    found = [solve(part, variable) for part in parts]
    answers = tuple(one.antiderivative for one in found if one is not None)
    return answers if len(answers) == len(found) else None
