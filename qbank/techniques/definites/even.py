"""An even integrand over an interval that is symmetric about 0: twice the right half.

f(-x) = f(x)
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.maths.expression import Expression, Integer, Integral, Negate, sum_of
from qbank.messages import say
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.opened import Onward, go_on, times
from qbank.techniques.definites.parity import half_of, parity_of
from qbank.techniques.definites.way import Way, WaySlip, WorkedValue, Wrong

__all__ = ["EVEN", "EVEN_SLIPS", "doubled_wrongs", "even_wrongs"]

_NOUGHT = Integer(0)


def _even(integral: Integral) -> WorkedValue | None:
    upper = half_of(integral)
    if upper is None or integral.variable not in integral.integrand.symbols():
        return None
    parity = parity_of(integral.integrand, integral.variable)
    if parity is None or not parity.even:
        return None
    half = Integral(integral.integrand, integral.variable, _NOUGHT, upper)

    def begin() -> Chain:
        chain = Chain("even-symmetry", integral)
        chain.note(
            "aside",
            parity.equation,
            rule="even",
            reason=say("Replace {x} by -{x}: the integrand stays as it is.", x=integral.variable.name),
            proof=parity.proof,
        )
        chain.step(
            times(2)(half),
            "even-symmetry",
            say("The integrand is even and the interval symmetric: take twice the right half."),
            parity.proof,
        )
        return chain

    found = go_on(begin, half, times(2))
    if found is None:
        return None
    chain, onward, value = found
    return chain.finish(value, (*even_wrongs(value), *doubled_wrongs(onward)))


def doubled_wrongs(onward: Onward) -> Iterator[Wrong]:
    """The slips of what is doubled."""
    return (wrong.inside(times(2)) for wrong in onward.wrongs())


# What students do with symmetry (common practice: from the marking of scripts, not from a published table).


def even_wrongs(value: Expression) -> Iterator[Wrong]:
    """What slips make of an integral that was doubled, with its right value."""
    yield _NOT_DOUBLED.leads_to(lambda: value / 2)
    yield _NOT_HALVED.leads_to(lambda: sum_of(value, value))
    yield _EVEN_CALLED_ODD.leads_to(lambda: _NOUGHT)
    yield _TURNED_BY_SIGN.leads_to(lambda: Negate(value))


_NOT_DOUBLED = WaySlip(
    identifier="even-not-doubled",
    sentence=say("Halving the interval halves the integral: take it twice."),
)
_NOT_HALVED = WaySlip(
    identifier="doubled-without-halving-the-interval",
    sentence=say(
        "Doubling makes good for taking only half of the interval; over the whole interval it is too much."
    ),
)
_EVEN_CALLED_ODD = WaySlip(
    identifier="even-called-odd",
    sentence=say("Put -x in: this integrand does not change its sign, so its halves do not cancel."),
)
_TURNED_BY_SIGN = WaySlip(
    identifier="left-half-taken-negative",
    sentence=say("An even integrand has the same sign on both sides of 0; nothing is turned round."),
)
EVEN_SLIPS = (_NOT_DOUBLED, _NOT_HALVED, _EVEN_CALLED_ODD, _TURNED_BY_SIGN)

EVEN = Way(
    identifier="even-symmetry",
    title=say("An even integrand over a symmetric interval"),
    work=_even,
    slips=EVEN_SLIPS,
)
