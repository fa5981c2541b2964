"""Fractions of sines and cosines of two angles that differ by a constant: the sine or cosine of that constant is put in.

sin x/sin(x + a)           x = (x + a) - a       x cos a - sin a ln|sin(x + a)|
1/(sin(x - a) sin(x - b))  a - b = (x - b) - (x - a)       1/sin(a - b) ln|sin(x - a)/sin(x - b)|
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from qbank.maths.constant_factor import before_integral
from qbank.maths.expression import Expression, Integral, Sum, Symbol, sum_of
from qbank.maths.notation import plain
from qbank.messages import say, together
from qbank.techniques.circular.shifted_angles_plan import Divided, Multiplied, Shifted, shifted_angles
from qbank.techniques.slips import slips_of
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "shifted-angles"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = shifted_angles(integrand, variable)
    match plan:
        case None:
            return None
        case Divided():
            return _divided_lines(integrand, plan)
        case Multiplied():
            return _multiplied_lines(integrand, variable, plan)


def _divided_lines(integrand: Expression, plan: Divided) -> WorkedSolution:
    x = plan.variable
    working = Working(_IDENTIFIER, integrand, x)
    working.found(
        *plan.equations(),
        rule="angle-sum",
        reason=say(
            "Write the angle above the line as the one below and a constant; then use the formula for a sum of angles."
        ),
    )
    working.step(
        before_integral(plan.constant, Integral(sum_of(*plan.terms()), x)),
        "angle-sum",
        say("Put this in and divide each term."),
    )
    working.step(
        plan.answer(),
        "standard-integral",
        say("The tangent and the cotangent give the logarithm of the cosine and of the sine."),
    )
    return working.finish()


def _multiplied_lines(integrand: Expression, variable: Symbol, plan: Multiplied) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, variable)
    divisor = plan.divisor
    working.found(
        *plan.equations(),
        rule="angle-difference",
        reason=say("The difference of the two angles is a constant: write down its sine by the formula.")
        if not plan.mixed
        else say("The difference of the two angles is a constant: write down its cosine by the formula."),
    )
    needed = say("Here {letter} must not be zero, for it is divided by.", letter=plain(divisor))
    working.step(
        before_integral(plan.front, Integral(plan.written(), variable)),
        "angle-difference",
        together(
            say("Multiply above and below by this constant."), *((needed,) if divisor.symbols() else ())
        ),
    )
    working.step(
        before_integral(plan.front, Integral(sum_of(*plan.terms()), variable)),
        "divide-terms",
        say("Divide each term."),
    )
    working.step(
        plan.logarithms(),
        "standard-integral",
        say("The tangent and the cotangent give the logarithm of the cosine and of the sine."),
    )
    working.step(plan.answer(), "logarithm-laws", say("The difference of two logarithms is one of a ratio."))
    return working.finish()


# What students write (common practice: from the marking of scripts, not from a published table).

_slip: Callable[[str, str, Callable[[Shifted], Expression | None]], Slip] = slips_of(
    "shifted", shifted_angles
)


def _swapped(found: Shifted) -> Expression | None:
    return replace(found, swapped=True).answer() if isinstance(found, Divided) else None


def _turned(found: Shifted) -> Expression | None:
    return replace(found, turned=True).answer() if isinstance(found, Divided) else None


def _without_variable(found: Shifted) -> Expression | None:
    changed = replace(found, without_variable=True).answer() if isinstance(found, Divided) else None
    return changed if changed is not None and isinstance(changed, Sum) else None


def _not_divided(found: Shifted) -> Expression | None:
    return replace(found, exponent=0).answer() if isinstance(found, Multiplied) else None


def _multiplied(found: Shifted) -> Expression | None:
    return replace(found, exponent=1).answer() if isinstance(found, Multiplied) else None


def _upside_down(found: Shifted) -> Expression | None:
    return replace(found, upside_down=True).answer() if isinstance(found, Multiplied) else None


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Two angles that differ by a constant: its sine or cosine is put in",
    work=_work,
    slips=(
        _slip(
            "sine-and-cosine-swapped",
            say(
                "In the formula for the sine of a sum each sine stands beside a cosine; in that for the cosine, each beside its own kind."
            ),
            _swapped,
        ),
        _slip(
            "sign-of-identity",
            say("Check the sign between the two terms of the identity by putting in the angle 0."),
            _turned,
        ),
        _slip(
            "constant-not-integrated",
            say(
                "The sine or cosine of a constant is a constant: its integral is that constant times the variable."
            ),
            _without_variable,
        ),
        _slip(
            "constant-not-divided",
            say(
                "What the fraction is multiplied by above the line has to be divided by in front of the integral."
            ),
            _not_divided,
        ),
        _slip(
            "constant-multiplied",
            say("The constant that was put in above the line belongs below it in front of the integral."),
            _multiplied,
        ),
        _slip(
            "ratio-upside-down",
            say(
                "Check by differentiating which of the two functions stands above the line in the logarithm."
            ),
            _upside_down,
        ),
    ),
)
