"""Odd and even integrands over an interval that is symmetric about 0.

odd     f(-x) = -f(x)     the integral from -a to a is 0; no antiderivative is needed
even    f(-x) = f(x)      it is twice that from 0 to a
both    a sum             the odd terms go, the even ones are doubled
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from qbank.maths.deciding import decide_equal, exact_value
from qbank.maths.equation import Equation
from qbank.maths.expression import INFINITY, Expression, Integer, Integral, Negate, Sum, Symbol, sum_of
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Proof, Proved
from qbank.messages import say
from qbank.techniques.definite import DefiniteRefused
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.leaf import ends
from qbank.techniques.definites.opened import Onward, go_on, times
from qbank.techniques.definites.way import Way, WaySlip, WorkedValue, Wrong

__all__ = ["EVEN", "ODD", "ODD_TERMS"]

_NOUGHT = Integer(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Parity:
    """Whether a function is even or odd, with the equation that says so."""

    even: bool
    equation: Equation
    proof: Proof


def _half(integral: Integral) -> Expression | None:
    """The upper limit of an interval that is symmetric about 0."""
    lower, upper = ends(integral)
    if lower.symbols() | upper.symbols():
        return None
    if upper == INFINITY:
        return upper if lower == Negate(INFINITY) else None
    if lower in (INFINITY, Negate(INFINITY)) or exact_value(sum_of(lower, upper)) != _NOUGHT:
        return None
    return upper if lower != upper else None


def _parity(tree: Expression, variable: Symbol) -> _Parity | None:
    mirrored = tree.substitute({variable: Negate(variable)})
    for even, other in ((True, tree), (False, tidy(Negate(tree)))):
        verdict = decide_equal(mirrored, other, variable)
        if isinstance(verdict, Proved) and not verdict.undefined_at:
            return _Parity(even=even, equation=Equation(mirrored, other), proof=verdict.proof)
    return None


def _odd(integral: Integral) -> WorkedValue | None:
    if _half(integral) is None:
        return None
    parity = _parity(integral.integrand, integral.variable)
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


def _even(integral: Integral) -> WorkedValue | None:
    upper = _half(integral)
    if upper is None or integral.variable not in integral.integrand.symbols():
        return None
    parity = _parity(integral.integrand, integral.variable)
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
    return chain.finish(value, (*_of_even(value), *_doubled(onward)))


def _odd_terms(integral: Integral) -> WorkedValue | None:
    upper = _half(integral)
    if upper is None or not isinstance(integral.integrand, Sum):
        return None
    parities = [(term, _parity(term, integral.variable)) for term in integral.integrand.terms]
    odd = [(term, parity) for term, parity in parities if parity is not None and not parity.even]
    if any(parity is None for _, parity in parities) or not 0 < len(odd) < len(parities):
        return None
    left = sum_of(*(term for term, parity in parities if parity is not None and parity.even))
    gone = sum_of(*(term for term, _ in odd))
    parity_of_gone = _parity(gone, integral.variable)
    parity_of_left = _parity(left, integral.variable)
    if parity_of_gone is None or parity_of_left is None:
        return None
    half = Integral(left, integral.variable, _NOUGHT, upper)

    def begin() -> Chain:
        chain = Chain("odd-terms", integral)
        chain.note(
            "aside",
            Equation(Integral(gone, integral.variable, *ends(integral)), _NOUGHT),
            rule="odd",
            reason=say("These terms are odd and the interval is symmetric: they give 0."),
            proof=parity_of_gone.proof,
        )
        chain.step(
            times(2)(half),
            "even-symmetry",
            say("The terms that are left are even: take twice the right half."),
            parity_of_left.proof,
        )
        return chain

    found = go_on(begin, half, times(2))
    if found is None:
        return None
    chain, onward, value = found
    wrongs = (*_of_even(value), *_of_odd_terms(integral, gone, value), *_doubled(onward))
    return chain.finish(value, wrongs)


def _doubled(onward: Onward) -> Iterator[Wrong]:
    return (wrong.inside(times(2)) for wrong in onward.wrongs())


def _value(integral: Integral) -> Expression | None:
    """The value of an integral that a slip leads to; None where it has none."""

    def begin() -> Chain:
        return Chain("", integral)

    try:
        found = go_on(begin, integral)
    except DefiniteRefused:
        return None
    return None if found is None else found[2]


# What students do with symmetry (common practice: from the marking of scripts, not from a published table).


def _of_odd(integral: Integral) -> Iterator[Wrong]:
    upper = ends(integral)[1]
    half = Integral(integral.integrand, integral.variable, _NOUGHT, upper)

    def doubled() -> Expression | None:
        value = _value(half)
        return None if value is None else sum_of(value, value)

    def turned() -> Expression | None:
        value = _value(half)
        return None if value is None else Negate(value)

    yield _ODD_CALLED_EVEN.leads_to(doubled)
    yield _RIGHT_HALF_ONLY.leads_to(lambda: _value(half))
    yield _LEFT_HALF_ONLY.leads_to(turned)
    yield _HALVES_SUBTRACTED.leads_to(lambda: None if (v := doubled()) is None else Negate(v))


def _of_even(value: Expression) -> Iterator[Wrong]:
    yield _NOT_DOUBLED.leads_to(lambda: value / 2)
    yield _NOT_HALVED.leads_to(lambda: sum_of(value, value))
    yield _EVEN_CALLED_ODD.leads_to(lambda: _NOUGHT)
    yield _TURNED_BY_SIGN.leads_to(lambda: Negate(value))


def _of_odd_terms(integral: Integral, gone: Expression, value: Expression) -> Iterator[Wrong]:
    half = Integral(gone, integral.variable, _NOUGHT, ends(integral)[1])

    def kept() -> Expression | None:
        extra = _value(half)
        return None if extra is None else sum_of(value, extra, extra)

    yield _ODD_TERMS_DOUBLED.leads_to(kept)


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
_ODD_TERMS_DOUBLED = WaySlip(
    identifier="odd-terms-doubled-too",
    sentence=say("Only even terms are doubled; the odd ones give 0 over a symmetric interval."),
)

ODD = Way(
    identifier="odd-symmetry",
    title=say("An odd integrand over a symmetric interval"),
    work=_odd,
    slips=(_ODD_CALLED_EVEN, _RIGHT_HALF_ONLY, _LEFT_HALF_ONLY, _HALVES_SUBTRACTED),
)
ODD_TERMS = Way(
    identifier="odd-terms",
    title=say("Odd terms left out over a symmetric interval"),
    work=_odd_terms,
    slips=(_NOT_DOUBLED, _NOT_HALVED, _EVEN_CALLED_ODD, _TURNED_BY_SIGN, _ODD_TERMS_DOUBLED),
)
EVEN = Way(
    identifier="even-symmetry",
    title=say("An even integrand over a symmetric interval"),
    work=_even,
    slips=(_NOT_DOUBLED, _NOT_HALVED, _EVEN_CALLED_ODD, _TURNED_BY_SIGN),
)
