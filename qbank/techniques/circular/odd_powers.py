"""sin^m cos^n with an odd power: split off one factor, use sin^2 + cos^2 = 1, substitute the other function.

The other function may have any rational power: `cos^3 x / sqrt(sin x)` goes the same way.
"""

from __future__ import annotations

from dataclasses import replace

from qbank.maths.expression import Expression, Integral, Symbol, fraction
from qbank.messages import say
from qbank.techniques.circular.circular_powers import (
    CircularPowers,
    circular_powers,
    power_product,
    spare_letter,
)
from qbank.techniques.circular.split_and_substitute import Split, SplitReasons, fact_up_to, split_lines
from qbank.techniques.circular.split_slips import (
    Plan,
    divided_by_old_power,
    identity_with_wrong_sign,
    middle_terms_lost,
    not_divided,
    powers_differentiated,
    raised_like_a_variable,
    rate_forgotten,
    rate_multiplied,
    sign_of_rate_changed,
    slip_by,
)
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "odd-powers"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    seen = circular_powers(integrand, variable)
    split = _split(integrand, variable)
    if seen is None or split is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    if not seen.names <= {"sin", "cos"} or not seen.tidy:
        sine, cosine = seen.sine_and_cosine
        collected = power_product(seen.angle.tree, (("sin", sine), ("cos", cosine)))
        reason = (
            say("Collect the powers.")
            if seen.names <= {"sin", "cos"}
            else say("Write everything with sine and cosine.")
        )
        working.step(seen.before(Integral(collected, variable)), "rewrite", reason)
    split_lines(working, split, spare_letter(integrand), _reasons(split))
    return working.finish()


def _reasons(split: Split) -> SplitReasons:
    if split.replaced == "sin":
        beside = say("The sine beside the differential is the derivative of the cosine")
        return SplitReasons(
            save=say("The power of the sine is odd: split off one factor for the substitution."),
            identity=say("Pythagoras: sine squared is one minus cosine squared."),
            substitute=fact_up_to(beside, split.rate, split.angle.unit),
        )
    beside = say("The cosine beside the differential is the derivative of the sine")
    return SplitReasons(
        save=say("The power of the cosine is odd: split off one factor for the substitution."),
        identity=say("Pythagoras: cosine squared is one minus sine squared."),
        substitute=fact_up_to(beside, split.rate, split.angle.unit),
    )


def _split(integrand: Expression, variable: Symbol) -> Split | None:
    """The numbers of an integrand of this kind, else None."""
    seen = circular_powers(integrand, variable)
    if seen is None or _better_with_tangent(seen):
        return None
    sine, cosine = seen.sine_and_cosine
    usable = [
        (power, name, other)
        for power, name, other in ((cosine, "cos", sine), (sine, "sin", cosine))
        if power.denominator == 1 and power > 0 and power % 2 == 1 and (other or power > 1)
    ]
    if not usable:
        return None
    power, name, other = min(usable, key=lambda choice: choice[0])
    return Split(
        coefficient=seen.coefficient,
        angle=seen.angle,
        replaced=name,
        pairs=int(power) // 2,
        inner="sin" if name == "cos" else "cos",
        power=other,
        saved=((name, fraction(1, 1)),),
        identity=(1, -1),
        sign=1 if name == "cos" else -1,
        scale=seen.angle.slope,
        constants=seen.constants,
    )


def _better_with_tangent(seen: CircularPowers) -> bool:
    """Whether the integrand is written in tan and sec (or cot and cosec), of a kind that is worked with these.

    A fractional power of a tangent cannot be split into powers of sine and cosine, which may both be negative.
    """
    if seen.names <= {"sin", "cos"}:
        return False
    odd_tangent = any(n > 0 and n % 2 == 1 for n in (seen.exponent("tan"), seen.exponent("cot")))
    pure = seen.names <= {"tan", "sec"} or seen.names <= {"cot", "cosec"}
    return not seen.whole or (pure and odd_tangent)


# What students write (common practice: from the marking of scripts, not from a published table).


def _minus_lost(plan: Plan) -> Plan | None:
    return sign_of_rate_changed(plan) if plan.sign < 0 else None


def _minus_added(plan: Plan) -> Plan | None:
    return sign_of_rate_changed(plan) if plan.sign > 0 else None


def _wrong_function_back(plan: Plan) -> Plan | None:
    return replace(plan, restored=plan.replaced) if isinstance(plan, Split) else None


def _power_of_function(solution: WorkedSolution) -> Expression | None:
    """`sin^3 x` taken to `sin^4 x / 4`, a product factor by factor."""
    seen = circular_powers(solution.integrand, solution.variable)
    if seen is None or not seen.names <= {"sin", "cos"}:
        return None
    return raised_like_a_variable(seen)


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Odd powers of sine and cosine",
    work=_work,
    slips=(
        Slip(
            identifier="minus-of-cosine-derivative-lost",
            sentence=say(
                "The derivative of the cosine is minus the sine: the substitution brings a minus sign."
            ),
            answer=slip_by(_split, _minus_lost),
        ),
        Slip(
            identifier="minus-given-to-sine-derivative",
            sentence=say("The derivative of the sine is the cosine, with no minus sign."),
            answer=slip_by(_split, _minus_added),
        ),
        Slip(
            identifier="odd-power-inner-coefficient-forgotten",
            sentence=say(
                "The number inside the angle comes out when you differentiate, so you must divide by it."
            ),
            answer=slip_by(_split, rate_forgotten),
        ),
        Slip(
            identifier="odd-power-inner-coefficient-multiplied",
            sentence=say(
                "When integrating, divide by the number inside the angle; multiplying belongs to differentiating."
            ),
            answer=slip_by(_split, rate_multiplied),
        ),
        Slip(
            identifier="odd-power-raised-like-a-variable",
            sentence=say(
                "The power rule needs the derivative of the function beside it; a power alone cannot simply be raised."
            ),
            answer=_power_of_function,
        ),
        Slip(
            identifier="pythagoras-with-plus",
            sentence=say("Sine squared and cosine squared add up to one, so each is one minus the other."),
            answer=slip_by(_split, identity_with_wrong_sign),
        ),
        Slip(
            identifier="odd-power-middle-term-lost",
            sentence=say("A bracket raised to a power has middle terms too: multiply it out term by term."),
            answer=slip_by(_split, middle_terms_lost),
        ),
        Slip(
            identifier="odd-power-not-divided-by-new-power",
            sentence=say("After raising the power by one, divide by the new power."),
            answer=slip_by(_split, not_divided),
        ),
        Slip(
            identifier="odd-power-divided-by-old-power",
            sentence=say("Divide by the new power, the one after raising it by one."),
            answer=slip_by(_split, divided_by_old_power),
        ),
        Slip(
            identifier="odd-power-powers-differentiated",
            sentence=say("The powers were differentiated; here they are to be integrated."),
            answer=slip_by(_split, powers_differentiated),
        ),
        Slip(
            identifier="wrong-function-put-back",
            sentence=say("Put back the function that you substituted, not its partner."),
            answer=slip_by(_split, _wrong_function_back),
        ),
        differentiated_instead("odd-power"),
    ),
)
