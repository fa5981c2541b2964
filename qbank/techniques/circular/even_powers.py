"""sin^m cos^n with both powers even: double-angle identities, again and again until only cosines are left.

Odd powers of a cosine that turn up on the way are split as in `odd_powers`, within the same chain of lines.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from qbank.maths.expression import Expression, Integral, Symbol, fraction
from qbank.messages import say
from qbank.techniques.circular.circular_powers import circular_powers, power_product
from qbank.techniques.circular.double_angles import AS_TAUGHT, DoubleAngles
from qbank.techniques.circular.even_plan import (
    CosineRule,
    EvenFamily,
    EvenPlan,
    EvenWords,
    even_lines,
)
from qbank.techniques.circular.split_slips import if_different, raised_like_a_variable
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "even-powers"

_FAMILY = EvenFamily(
    sine="sin",
    cosine="cos",
    derivative=-1,
    falling=False,
    words=EvenWords(
        sine=say("Double angle: sine squared is half of one minus the cosine of twice the angle."),
        cosine=say("Double angle: cosine squared is half of one plus the cosine of twice the angle."),
        product=say("Double angle: sine times cosine is half the sine of twice the angle."),
        product_and_sine=say(
            "Double angle: sine times cosine is half the sine of twice the angle,"
            " and sine squared is half of one minus the cosine of twice the angle."
        ),
        product_and_cosine=say(
            "Double angle: sine times cosine is half the sine of twice the angle,"
            " and cosine squared is half of one plus the cosine of twice the angle."
        ),
        divided=say("Integrate term by term, dividing by the number inside the angle."),
        powers=say("Integrate term by term; a power of the sine times the cosine goes by substitution."),
        powers_divided=say(
            "Integrate term by term, dividing by the number inside the angle;"
            " a power of the sine times the cosine goes by substitution."
        ),
    ),
)


def _plan(integrand: Expression, variable: Symbol) -> EvenPlan | None:
    """The numbers of an integrand of this kind, else None."""
    seen = circular_powers(integrand, variable)
    if seen is None or not seen.whole:
        return None
    sine, cosine = seen.sine_and_cosine
    if sine < 0 or cosine < 0 or sine % 2 or cosine % 2 or not sine + cosine:
        return None
    return EvenPlan(family=_FAMILY, seen=seen, sine=int(sine), cosine=int(cosine), identities=AS_TAUGHT)


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = _plan(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    seen = plan.seen
    plain = seen.names <= {"sin", "cos"}
    if not plain or not seen.tidy:
        powers = (("sin", Fraction(plan.sine)), ("cos", Fraction(plan.cosine)))
        reason = say("Collect the powers.") if plain else say("Write everything with sine and cosine.")
        collected = Integral(power_product(seen.angle.tree, powers), variable)
        working.step(seen.before(collected), "rewrite", reason)
    even_lines(working, plan)
    return working.finish()


# What students write (common practice: from the marking of scripts, not from a published table).


def _slip(change: Callable[[EvenPlan], EvenPlan | None]) -> Callable[[WorkedSolution], Expression | None]:
    def answer(solution: WorkedSolution) -> Expression | None:
        right = _plan(solution.integrand, solution.variable)
        return None if right is None else if_different(change(right), right)

    return answer


def _with(identities: DoubleAngles) -> Callable[[EvenPlan], EvenPlan]:
    return lambda plan: replace(plan, identities=identities)


def _ruled(rule: CosineRule) -> Callable[[EvenPlan], EvenPlan]:
    return lambda plan: replace(plan, rule=rule)


def _raised_like_a_variable(solution: WorkedSolution) -> Expression | None:
    plan = _plan(solution.integrand, solution.variable)
    return None if plan is None else raised_like_a_variable(plan.seen)


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Even powers of sine and cosine",
    work=_work,
    slips=(
        Slip(
            identifier="double-angle-sign",
            sentence=say(
                "Sine squared goes with minus the cosine of twice the angle, cosine squared with plus."
            ),
            answer=_slip(_with(DoubleAngles(of_sine=(1, 1), of_cosine=(1, -1)))),
        ),
        Slip(
            identifier="double-angle-cosine-not-divided",
            sentence=say("Divide by the number inside the angle when you integrate a cosine."),
            answer=_slip(_ruled("forgotten")),
        ),
        Slip(
            identifier="double-angle-half-lost",
            sentence=say("The double-angle identity has a factor one half in front."),
            answer=_slip(_with(DoubleAngles(half=fraction(1, 1)))),
        ),
        Slip(
            identifier="even-power-raised-like-a-variable",
            sentence=say(
                "The power rule needs the derivative of the function beside it; a power alone cannot simply be raised."
            ),
            answer=_raised_like_a_variable,
        ),
        Slip(
            identifier="double-angle-not-doubled",
            sentence=say("The identity for a square has twice the angle on the other side."),
            answer=_slip(_with(DoubleAngles(factor=1))),
        ),
        Slip(
            identifier="double-angle-cosine-multiplied",
            sentence=say(
                "When integrating, divide by the number inside the angle; multiplying belongs to differentiating."
            ),
            answer=_slip(_ruled("multiplied")),
        ),
        Slip(
            identifier="double-angle-cosine-differentiated",
            sentence=say(
                "The cosine was differentiated; its integral is the sine, with no minus sign, divided by the number inside."
            ),
            answer=_slip(_ruled("differentiated")),
        ),
        Slip(
            identifier="double-angle-middle-term-lost",
            sentence=say("A bracket raised to a power has middle terms too: multiply it out term by term."),
            answer=_slip(_with(DoubleAngles(middle=False))),
        ),
        Slip(
            identifier="double-angle-power-lost",
            sentence=say(
                "The identity replaces a square; a higher power needs the whole right side raised to a power."
            ),
            answer=_slip(_with(DoubleAngles(power=False))),
        ),
        differentiated_instead("even-power"),
    ),
)
