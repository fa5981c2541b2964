"""Products of sines and cosines of different angles: written as a sum, two at a time, and integrated term by term.

sin 3x cos 5x  =  1/2 (sin 8x - sin 2x)        -1/16 cos 8x + 1/4 cos 2x
"""

from __future__ import annotations

from fractions import Fraction
from math import gcd, lcm

from qbank.maths.constant_factor import before_integral, number, times
from qbank.maths.expression import Expression, Integer, Integral, Negate, Symbol, fraction, product, sum_of
from qbank.maths.factors import Factored
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.circular.angle_products import (
    AS_TAUGHT,
    Combination,
    Factors,
    is_ready,
    product_tree,
)
from qbank.techniques.circular.product_to_sum_plan import angle_plan
from qbank.techniques.circular.product_to_sum_slips import SLIPS
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "product-to-sum"

_SENTENCES = {
    "sin sin": say(
        "Product to sum: sine times sine is half the cosine of the difference of the angles, less that of their sum."
    ),
    "cos cos": say(
        "Product to sum: cosine times cosine is half the sum of the cosines of the sum and the difference of the angles."
    ),
    "cos sin": say(
        "Product to sum: sine times cosine is half the sum of the sines of the sum and the difference of the angles."
    ),
}


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = angle_plan(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    combination: Combination = ((plan.seen.factors, fraction(1, 1)),)
    front, again = plan.seen.constant, False
    while not all(is_ready(factors) for factors, _ in combination):
        reason = _reason(combination, again=again)
        if len(combination) > 1 or len(combination[0][0]) > 2:
            replaced = sum_of(*(scaled(c, _apart_tree(factors)) for factors, c in combination))
            line = before_integral(front, Integral(replaced, variable))
            working.step(line, "product-to-sum", reason)
            reason = say("Multiply out and collect.")
        combination = plan.identities.round(combination)
        common = _content(combination)
        combination = tuple((factors, c / common) for factors, c in combination)
        front = times(front, number(common))
        expanded = sum_of(*(scaled(c, product_tree(factors)) for factors, c in combination))
        working.step(before_integral(front, Integral(expanded, variable)), "product-to-sum", reason)
        again = True
    bracket = plan.integrated(combination, number(1))
    line = _in_front_of_sum(front, bracket)
    working.step(line, "standard-integral", _last_reason(combination))
    if line != plan.answer():
        working.step(plan.answer(), "expand", say("Multiply out."))
    return working.finish()


def _content(combination: Combination) -> Fraction:
    """The positive number that leaves whole numbers without a common factor when taken out."""
    numbers = [c for _, c in combination]
    return Fraction(gcd(*(n.numerator for n in numbers)), lcm(*(n.denominator for n in numbers)))


def _in_front_of_sum(front: Factored, bracket: Expression) -> Expression:
    size = Factored(coefficient=abs(front.coefficient), powers=front.powers).tree()
    whole = bracket if size == Integer(1) else product(size, bracket)
    return Negate(whole) if front.coefficient < 0 else whole


def _apart_tree(factors: Factors) -> Expression:
    """A product with its first two moving factors taken apart, before anything is multiplied out."""
    if is_ready(factors):
        return product_tree(factors)
    first, second, rest = AS_TAUGHT.chosen(factors)
    pieces = AS_TAUGHT.round((((first, second), fraction(1, 1)),))
    common = _content(pieces)
    body = sum_of(*(scaled(c / common, product_tree(piece)) for piece, c in pieces))
    bracket = _in_front_of_sum(number(common), body)
    return product(*(factor for factor in (bracket, product_tree(rest)) if factor != Integer(1)))


def _reason(combination: Combination, *, again: bool) -> str:
    if again:
        return say("Take the products that are left apart in the same way.")
    first, second, _ = AS_TAUGHT.chosen(combination[0][0])
    if first == second:
        if first[0] == "sin":
            return say("Sine squared is half of one minus the cosine of twice the angle.")
        return say("Cosine squared is half of one plus the cosine of twice the angle.")
    return _SENTENCES[" ".join(sorted((first[0], second[0])))]


def _last_reason(combination: Combination) -> str:
    slopes = [angle.slope for factors, _ in combination for _, angle in factors if angle.moving]
    if all(slope == number(1) for slope in slopes):
        return say("Integrate term by term.")
    return say("Integrate term by term, dividing by the number inside the angle.")


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Products of sines and cosines of different angles",
    work=_work,
    slips=SLIPS,
)
