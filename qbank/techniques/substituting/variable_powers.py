"""A power whose base and exponent both hold the variable: written as an exponential, whose exponent is substituted.

int x^x (1 + ln x) dx            x^x = e^(x ln x)      u = x ln x, du = (1 + ln x) dx      int e^u du = x^x
int x^(1/x) (1 - ln x)/x^2 dx    u = (ln x)/x

The power is real where its base is positive (common practice); there the two are equal.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.constant_factor import before_integral, in_front, number, over, split_constant, times
from qbank.maths.deciding import decide_equal
from qbank.maths.derivative import derivative
from qbank.maths.expression import Apply, E, Expression, Integer, Integral, Power, Symbol, product, sum_of
from qbank.maths.factors import Factored, factored
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Proved
from qbank.messages import say
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.slips import slips_of
from qbank.techniques.substituting.canonical import canonical, ordered, sums_divided
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "variable-powers"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """`integrand = front * power * (h ln b)'`.

    Attributes:
        front: the constant in front.
        power: b^h.
        exponent: h ln b.
        beside: what stands beside the power, without a constant.
        variable: x.
    """

    front: Factored
    power: Power
    exponent: Expression
    beside: Expression
    variable: Symbol


@lru_cache(maxsize=64)
def _find(integrand: Expression, variable: Symbol) -> _Found | None:
    constant, moving = split_constant(integrand, variable)
    found = [
        base
        for base, n in moving.powers
        if n == 1
        and isinstance(base, Power)
        and variable in base.base.symbols()
        and variable in base.exponent.symbols()
    ]
    if len(found) != 1 or not constant.coefficient:
        return None
    (power,) = found
    exponent = times(factored(power.exponent), factored(Apply("ln", power.base))).tree()
    beside = moving.without(power).tree()
    ratio = _ratio(beside, derivative(exponent, variable), variable)
    if ratio is None:
        return None
    return _Found(
        front=times(constant, ratio), power=power, exponent=exponent, beside=beside, variable=variable
    )


def _ratio(beside: Expression, slope: Expression, variable: Symbol) -> Factored | None:
    """What constant times the slope stands beside the power."""
    one, other = (sums_divided(canonical(ordered(tree), variable), variable) for tree in (beside, slope))
    if not other.coefficient:  # x^(1/ln x) is a number
        return None
    ratio = times(one, over(other))
    if not any(variable in base.symbols() for base, _ in ratio.powers):
        return ratio
    return number(1) if isinstance(decide_equal(beside, slope, variable), Proved) else None


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    found = _find(integrand, variable)
    return None if found is None else _worked(integrand, found)


def _worked(integrand: Expression, found: _Found) -> WorkedSolution:
    x, constant = found.variable, split_constant(integrand, found.variable)[0]
    working = Working(_IDENTIFIER, integrand, x)
    exponential = Power(E, found.exponent)
    said = say("The variable stands in the base and in the exponent: write the power as an exponential.")
    working.aside(found.power, exponential, "rewrite", said)
    line = times(factored(exponential), factored(found.beside)).tree()
    working.step(before_integral(constant, Integral(line, x)), "rewrite", say("Put this in."))
    letter = spare_letter(sum_of(integrand, x))
    working.let(
        letter,
        found.exponent,
        derivative(found.exponent, x),
        say("The derivative of the exponent stands beside the exponential.")
        if found.front == constant
        else say("The derivative of the exponent stands beside the exponential, up to a constant."),
    )
    left = Power(E, letter)
    said = say("Write everything in {letter}.", letter=letter.name)
    working.step(before_integral(found.front, Integral(left, letter)), "substitution", said)
    working.step(in_front(found.front, left), "standard-integral", say("An exponential stays."))
    said = say("Put the exponent back for {letter}; the exponential is the power again.", letter=letter.name)
    working.step(in_front(found.front, found.power), "substitute-back", said)
    return working.finish()


# What students write (common practice: from the marking of scripts, not from a published table).


def _power_raised(found: _Found) -> Expression:
    """The power rule, as if the exponent were a number."""
    new = tidy(sum_of(found.power.exponent, Integer(1)))
    raised = Power(found.power.base, new)
    return in_front(found.front, product(raised, found.beside) / new)


def _base_constant(found: _Found) -> Expression:
    """The rule for exponentials, as if the base were a number."""
    return in_front(found.front, found.power / Apply("ln", found.power.base))


def _derivative_kept(found: _Found) -> Expression:
    """What du uses up is written again."""
    return in_front(found.front, times(factored(found.power), factored(found.beside)).tree())


def _ratio_multiplied(found: _Found) -> Expression | None:
    """The number in the exponent multiplied in place of divided by."""
    seen = split_constant(found.exponent, found.variable)[0]
    if abs(seen.coefficient) == 1 or seen.powers:
        return None
    return in_front(times(found.front, seen, seen), found.power)


_slip = slips_of(_IDENTIFIER, _find)

TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="A power with the variable in base and exponent",
    work=_work,
    slips=(
        _slip(
            "power-rule",
            say("The power rule is for a constant exponent; here the exponent holds the variable."),
            _power_raised,
        ),
        _slip(
            "base-taken-as-constant",
            say("Dividing by ln of the base is for a constant base; here the base holds the variable."),
            _base_constant,
        ),
        _slip(
            "derivative-kept",
            say(
                "The factor that becomes part of the differential is used up; it does not stay in the answer."
            ),
            _derivative_kept,
        ),
        _slip(
            "number-in-exponent-multiplied",
            say(
                "Divide by the number that the derivative of the exponent brings; it belongs to the other side."
            ),
            _ratio_multiplied,
        ),
    ),
)
