"""An odd integrand over an interval that is symmetric about 0: the integral is 0, and no antiderivative is needed.

f(-x) = -f(x)
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.maths.expression import Expression, Integer, Integral, Negate, sum_of
from qbank.messages import say
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.leaf import ends
from qbank.techniques.definites.opened import value_or_none
from qbank.techniques.definites.parity import half_of, parity_of
from qbank.techniques.definites.way import Way, WaySlip, WorkedValue, Wrong

__all__ = ["ODD"]

_NOUGHT = Integer(0)


def _odd(integral: Integral) -> WorkedValue | None:
    if half_of(integral) is None:
        return None
    parity = parity_of(integral.integrand, integral.variable)
    if parity is None or parity.even:
        return None
    chain = Chain("odd-symmetry", integral)
    chain.note(
        "aside",
        parity.equation,
        rule="odd",
        reason=say("Replace {x} by -{x}: the integrand only changes its sign.", x=integral.variable.name),
        proof=parity.proof,
    )
    chain.step(
        _NOUGHT,
        "odd-symmetry",
        say("The integrand is odd and the interval symmetric, so the integral is 0."),
        parity.proof,
    )
    return chain.finish(_NOUGHT, _of_odd(integral))


# What students do with symmetry (common practice: from the marking of scripts, not from a published table).


def _of_odd(integral: Integral) -> Iterator[Wrong]:
    upper = ends(integral)[1]
    half = Integral(integral.integrand, integral.variable, _NOUGHT, upper)

    def doubled() -> Expression | None:
        value = value_or_none(half)
        return None if value is None else sum_of(value, value)

    def turned() -> Expression | None:
        value = value_or_none(half)
        return None if value is None else Negate(value)

    yield _ODD_CALLED_EVEN.leads_to(doubled)
    yield _RIGHT_HALF_ONLY.leads_to(lambda: value_or_none(half))
    yield _LEFT_HALF_ONLY.leads_to(turned)
    yield _HALVES_SUBTRACTED.leads_to(lambda: None if (v := doubled()) is None else Negate(v))


_ODD_CALLED_EVEN = WaySlip(
    identifier="odd-called-even",
    sentence=say("Put -x in: this integrand changes its sign, so it is odd, and the two halves cancel."),
)
_RIGHT_HALF_ONLY = WaySlip(
    identifier="right-half-only",
    sentence=say("The interval begins to the left of 0: the left half belongs to the integral as well."),
)
_LEFT_HALF_ONLY = WaySlip(
    identifier="left-half-only",
    sentence=say("The interval goes on to the right of 0: the right half belongs to the integral as well."),
)
_HALVES_SUBTRACTED = WaySlip(
    identifier="halves-subtracted",
    sentence=say("The two halves of the interval are added; for an odd integrand they cancel."),
)
ODD = Way(
    identifier="odd-symmetry",
    title=say("An odd integrand over a symmetric interval"),
    work=_odd,
    slips=(_ODD_CALLED_EVEN, _RIGHT_HALF_ONLY, _LEFT_HALF_ONLY, _HALVES_SUBTRACTED),
)
