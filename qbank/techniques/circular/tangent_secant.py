"""Powers of tan and sec, of cot and cosec: sec^2 = 1 + tan^2 and cosec^2 = 1 + cot^2 do all the work.

    an even power of sec     save sec^2 x for du, u = tan x
    an odd power of tan      save sec x tan x for du, u = sec x
    tan^n alone              tan^2 = sec^2 - 1 lowers the power by two, again and again (module tangent_powers)

Integrands written with sine and cosine (`1/cos^4 x`, `sin^2 x / cos^4 x`) are seen as powers of tan and sec.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from qbank.maths.expression import Expression, Integral, Symbol, fraction
from qbank.messages import say
from qbank.techniques.circular.circular_powers import power_product, spare_letter
from qbank.techniques.circular.split_and_substitute import Split, SplitReasons, split_lines
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
from qbank.techniques.circular.tangent_pairs import Pair, Seen, see_pair
from qbank.techniques.circular.tangent_powers import (
    TangentPower,
    tangent_power_lines,
)
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "tangent-secant"


def _plan(integrand: Expression, variable: Symbol) -> Plan | None:
    """The numbers of an integrand of this kind, else None."""
    seen = see_pair(integrand, variable)
    if seen is None:
        return None
    if seen.n == 0:
        return _tangent_power(seen)
    choices = [split for split in (_even_secant(seen), _odd_tangent(seen)) if split is not None]
    return min(choices, key=lambda split: split.pairs) if choices else None


def _tangent_power(seen: Seen) -> TangentPower | None:
    if seen.m.denominator != 1 or seen.m < 2:
        return None
    return TangentPower(
        coefficient=seen.written.coefficient,
        angle=seen.written.angle,
        name=seen.pair.tangent,
        power=int(seen.m),
        sign=seen.pair.sign,
        scale=seen.written.angle.slope,
        constants=seen.written.constants,
    )


def _even_secant(seen: Seen) -> Split | None:
    if seen.n.denominator != 1 or seen.n < 2 or seen.n % 2 or (seen.n == 2 and not seen.m):
        return None
    return _split(
        seen,
        replaced=seen.pair.secant,
        inner=seen.pair.tangent,
        pairs=int(seen.n) // 2 - 1,
        power=seen.m,
        saved=((seen.pair.secant, fraction(2, 1)),),
    )


def _odd_tangent(seen: Seen) -> Split | None:
    if not seen.direct or seen.m.denominator != 1 or seen.m < 1 or seen.m % 2 == 0 or seen.m == seen.n == 1:
        return None
    return _split(
        seen,
        replaced=seen.pair.tangent,
        inner=seen.pair.secant,
        pairs=int(seen.m) // 2,
        power=seen.n - 1,
        saved=((seen.pair.secant, fraction(1, 1)), (seen.pair.tangent, fraction(1, 1))),
    )


def _split(
    seen: Seen,
    *,
    replaced: str,
    inner: str,
    pairs: int,
    power: Fraction,
    saved: tuple[tuple[str, Fraction], ...],
) -> Split:
    return Split(
        coefficient=seen.written.coefficient,
        angle=seen.written.angle,
        replaced=replaced,
        pairs=pairs,
        inner=inner,
        power=power,
        saved=saved,
        identity=(1, 1) if replaced == seen.pair.secant else (-1, 1),
        sign=seen.pair.sign,
        scale=seen.written.angle.slope,
        constants=seen.written.constants,
    )


def _even_reasons(pair: Pair) -> SplitReasons:
    words = pair.words
    return SplitReasons(save=words.even, identity=words.one_plus, substitute=words.slope)


def _odd_reasons(pair: Pair) -> SplitReasons:
    words = pair.words
    return SplitReasons(save=words.odd, identity=words.identity, substitute=words.partner_slope)


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    seen, plan = see_pair(integrand, variable), _plan(integrand, variable)
    if seen is None or plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    if not seen.direct or not seen.written.tidy:
        powers = ((seen.pair.tangent, seen.m), (seen.pair.secant, seen.n))
        rewritten = Integral(power_product(seen.written.angle.tree, powers), variable)
        reason = say("Collect the powers.") if seen.direct else seen.pair.words.rewritten
        working.step(seen.written.before(rewritten), "rewrite", reason)
    letter = spare_letter(integrand)
    if isinstance(plan, TangentPower):
        tangent_power_lines(working, plan, letter)
    elif plan.falling:
        split_lines(working, plan, letter, _odd_reasons(seen.pair))
    else:
        split_lines(working, plan, letter, _even_reasons(seen.pair))
    return working.finish()


# What students write (common practice: from the marking of scripts, not from a published table).


def _minus_lost(plan: Plan) -> Plan | None:
    return sign_of_rate_changed(plan) if plan.sign < 0 else None


def _rest_lost(plan: Plan) -> TangentPower | None:
    return replace(plan, rest="lost") if isinstance(plan, TangentPower) else None


def _logarithm_sign(plan: Plan) -> TangentPower | None:
    return replace(plan, rest="sign changed") if isinstance(plan, TangentPower) and plan.left else None


def _tangent_differentiated(plan: Plan) -> TangentPower | None:
    return replace(plan, rest="differentiated") if isinstance(plan, TangentPower) and plan.left else None


def _partner_put_back(plan: Plan) -> Split | None:
    # t s^2 is both (t^2/2)' and (s^2/2)', so there the partner is right as well
    if not isinstance(plan, Split) or (plan.pairs == 0 and plan.power == 1):
        return None
    return replace(plan, restored=plan.replaced)


def _raised(solution: WorkedSolution) -> Expression | None:
    seen = see_pair(solution.integrand, solution.variable)
    if seen is None:
        return None
    powers = tuple((name, n) for name, n in ((seen.pair.tangent, seen.m), (seen.pair.secant, seen.n)) if n)
    return raised_like_a_variable(replace(seen.written, powers=powers))


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Powers of tangent and secant",
    work=_work,
    slips=(
        Slip(
            identifier="tangent-power-raised-like-a-variable",
            sentence=say(
                "The power rule needs the derivative of the function beside it; rewrite the power first."
            ),
            answer=_raised,
        ),
        Slip(
            identifier="secant-identity-with-wrong-sign",
            sentence=say("Secant squared is one plus tangent squared; check the sign when you rearrange it."),
            answer=slip_by(_plan, identity_with_wrong_sign),
        ),
        Slip(
            identifier="tangent-inner-coefficient-forgotten",
            sentence=say(
                "The number inside the angle comes out when you differentiate, so you must divide by it."
            ),
            answer=slip_by(_plan, rate_forgotten),
        ),
        Slip(
            identifier="tangent-inner-coefficient-multiplied",
            sentence=say(
                "When integrating, divide by the number inside the angle; multiplying belongs to differentiating."
            ),
            answer=slip_by(_plan, rate_multiplied),
        ),
        Slip(
            identifier="minus-of-cotangent-derivative-lost",
            sentence=say("The derivatives of the cotangent and the cosecant have a minus sign."),
            answer=slip_by(_plan, _minus_lost),
        ),
        Slip(
            identifier="tangent-left-over-term-lost",
            sentence=say("The minus one in the identity leaves an integral of its own: do not drop it."),
            answer=slip_by(_plan, _rest_lost),
        ),
        Slip(
            identifier="tangent-logarithm-sign",
            sentence=say("Check the sign of the logarithm by differentiating it."),
            answer=slip_by(_plan, _logarithm_sign),
        ),
        Slip(
            identifier="left-over-tangent-differentiated",
            sentence=say("Secant squared is the derivative of the tangent; its integral is a logarithm."),
            answer=slip_by(_plan, _tangent_differentiated),
        ),
        Slip(
            identifier="tangent-middle-term-lost",
            sentence=say("A bracket raised to a power has middle terms too: multiply it out term by term."),
            answer=slip_by(_plan, middle_terms_lost),
        ),
        Slip(
            identifier="tangent-not-divided-by-new-power",
            sentence=say("After raising the power by one, divide by the new power."),
            answer=slip_by(_plan, not_divided),
        ),
        Slip(
            identifier="tangent-divided-by-old-power",
            sentence=say("Divide by the new power, the one after raising it by one."),
            answer=slip_by(_plan, divided_by_old_power),
        ),
        Slip(
            identifier="tangent-powers-differentiated",
            sentence=say("The powers were differentiated; here they are to be integrated."),
            answer=slip_by(_plan, powers_differentiated),
        ),
        Slip(
            identifier="secant-and-tangent-interchanged",
            sentence=say("Put back the function that you substituted, not its partner."),
            answer=slip_by(_plan, _partner_put_back),
        ),
        differentiated_instead("tangent"),
    ),
)
