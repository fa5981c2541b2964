"""A whole number of periods: once over one period from 0, times how many there are; nothing where half periods cancel.

    f(x + T) = f(x), b - a = n T        n times the integral from 0 to T
    f(x + T/2) = -f(x)                  0: the second half of each period cancels the first

The period is read off the angles and proved by equality. Any interval of that length will do, so that the limits need
not be multiples of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import gcd, lcm

from qbank.maths.deciding import decide_equal, exact_value
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    INFINITY,
    PI,
    Apply,
    Expression,
    Integer,
    Integral,
    Negate,
    Quotient,
    Symbol,
    as_fraction,
    difference,
    product,
    rational,
    sum_of,
)
from qbank.maths.functions import FUNCTIONS
from qbank.maths.tidying import scaled, tidy
from qbank.maths.verdict import Proof, Proved
from qbank.messages import say
from qbank.techniques.definite import pi_over
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.leaf import ends
from qbank.techniques.definites.opened import go_on, times
from qbank.techniques.definites.way import Way, WaySlip, WorkedValue, Wrong

__all__ = ["PERIODS"]

_IDENTIFIER = "periods"
_NOUGHT = Integer(0)
#: periods that are counted in one integral
_MOST = 10_000


def _work(integral: Integral) -> WorkedValue | None:
    lower, upper = ends(integral)
    if lower.symbols() | upper.symbols() or _is_endless(lower) or _is_endless(upper):
        return None
    length = exact_value(difference(upper, lower))
    for period in _candidates(integral.integrand, integral.variable):
        count = as_fraction(exact_value(Quotient(length, period)))
        if count is None or count.denominator != 1 or not 0 < count <= _MOST:
            continue
        for step, sign in ((exact_value(period / 2), -1), (period, 1)):
            proof = _repeats(integral, step, sign)
            if proof is not None and sign < 0:
                return _cancelled(integral, step, proof)
            if proof is not None:
                return _counted(integral, period, int(count), proof)
    return None


def _is_endless(end: Expression) -> bool:
    return INFINITY in end.walk()


def _candidates(tree: Expression, variable: Symbol) -> Iterator[Expression]:
    """Half the common period of all angles, then that period itself."""
    slopes: list[Fraction] = []
    turns: list[bool] = []
    for node in tree.walk():
        if not isinstance(node, Apply) or FUNCTIONS[node.function].family != "circular":
            continue
        slope = _slope(node.argument, variable)
        if slope is None:
            continue  # an angle that is itself a function: what it repeats with is told by the equality
        slopes.append(abs(slope[0]))
        turns.append(slope[1])
    if not slopes or len(set(turns)) > 1:
        return
    common = Fraction(gcd(*(s.numerator for s in slopes)), lcm(*(s.denominator for s in slopes)))
    for halves in (1, 2):
        size = Fraction(halves) / common
        yield pi_over(rational(size)) if turns[0] else pi_over(scaled(size, PI))


def _slope(argument: Expression, variable: Symbol) -> tuple[Fraction, bool] | None:
    """The slope of a linear angle, as a fraction of one or of pi."""
    rise = difference(argument.substitute({variable: Integer(1)}), argument.substitute({variable: _NOUGHT}))
    for over, by_pi in ((Integer(1), False), (PI, True)):
        size = as_fraction(exact_value(Quotient(rise, over)))
        if size and isinstance(
            decide_equal(
                sum_of(product(rational(size), over, variable), argument.substitute({variable: _NOUGHT})),
                argument,
                variable,
            ),
            Proved,
        ):
            return size, by_pi
    return None


def _repeats(integral: Integral, step: Expression, sign: int) -> Proof | None:
    moved = integral.integrand.substitute({integral.variable: sum_of(integral.variable, step)})
    other = integral.integrand if sign > 0 else Negate(integral.integrand)
    verdict = decide_equal(moved, other, integral.variable)
    return verdict.proof if isinstance(verdict, Proved) and not verdict.undefined_at else None


def _equation(integral: Integral, step: Expression, sign: int) -> Equation:
    moved = integral.integrand.substitute({integral.variable: sum_of(integral.variable, step)})
    return Equation(moved, integral.integrand if sign > 0 else tidy(Negate(integral.integrand)))


def _cancelled(integral: Integral, step: Expression, proof: Proof) -> WorkedValue:
    chain = Chain(_IDENTIFIER, integral)
    chain.note(
        "aside",
        _equation(integral, step, -1),
        rule="half-period",
        reason=say("Half a period further on the integrand has the opposite sign."),
        proof=proof,
    )
    chain.step(
        _NOUGHT,
        "half-periods-cancel",
        say("The interval holds whole periods, and the two halves of each cancel, so the integral is 0."),
        proof,
    )
    half = Integral(integral.integrand, integral.variable, _NOUGHT, step)
    return chain.finish(_NOUGHT, _of_cancelled(half))


def _counted(integral: Integral, period: Expression, count: int, proof: Proof) -> WorkedValue | None:
    if count == 1 and ends(integral)[0] == _NOUGHT:
        return None
    once = Integral(integral.integrand, integral.variable, _NOUGHT, period)

    def begin() -> Chain:
        chain = Chain(_IDENTIFIER, integral)
        chain.note(
            "aside",
            _equation(integral, period, 1),
            rule="period",
            reason=say("One period further on the integrand is the same again."),
            proof=proof,
        )
        reason = (
            say("The interval is one period long, and over each period the integral is the same: begin at 0.")
            if count == 1
            else say("The interval holds {count} periods, and each gives the same.", count=str(count))
        )
        chain.step(times(count)(once) if count > 1 else once, "periods", reason, proof)
        return chain

    found = go_on(begin, once, times(count))
    if found is None:
        return None
    chain, onward, value = found
    inner = (wrong.inside(times(count)) for wrong in onward.wrongs())
    return chain.finish(value, (*_of_counted(value, count), *inner))


# What students do with periods (common practice: from the marking of scripts, not from a published table).


def _of_counted(value: Expression, count: int) -> Iterator[Wrong]:
    yield _ONE_ONLY.leads_to(lambda: value / count)
    yield _ONE_TOO_MANY.leads_to(lambda: product(rational(Fraction(count + 1, count)), value))
    yield _ONE_TOO_FEW.leads_to(lambda: product(rational(Fraction(count - 1, count)), value))
    yield _PERIOD_TWICE_AS_LONG.leads_to(lambda: value / 2)
    yield _PERIODS_CANCEL.leads_to(lambda: _NOUGHT)


def _of_cancelled(half: Integral) -> Iterator[Wrong]:
    def once() -> Expression | None:
        found = go_on(lambda: Chain("", half), half)
        return None if found is None else found[2]

    yield _HALVES_ADDED.leads_to(lambda: None if (v := once()) is None else sum_of(v, v))
    yield _HALF_ONLY.leads_to(once)


_ONE_ONLY = WaySlip(
    identifier="one-period-only",
    sentence=say("The interval holds several periods: count them, and take the integral that many times."),
)
_ONE_TOO_MANY = WaySlip(
    identifier="one-period-too-many",
    sentence=say("Divide the length of the interval by the period to count the periods."),
)
_ONE_TOO_FEW = WaySlip(
    identifier="one-period-too-few",
    sentence=say("The first period counts as well: divide the length of the interval by the period."),
)
_PERIOD_TWICE_AS_LONG = WaySlip(
    identifier="period-taken-twice-as-long",
    sentence=say("A square or a modulus repeats after half the period of the function inside."),
)
_PERIODS_CANCEL = WaySlip(
    identifier="periods-taken-to-cancel",
    sentence=say("Only a function that takes opposite values cancels over a period; this one does not."),
)
_HALVES_ADDED = WaySlip(
    identifier="half-periods-added",
    sentence=say("The second half of the period is negative where the first is positive: they cancel."),
)
_HALF_ONLY = WaySlip(
    identifier="half-period-only",
    sentence=say(
        "The interval goes on after half a period; the second half belongs to the integral as well."
    ),
)

PERIODS = Way(
    identifier=_IDENTIFIER,
    title=say("A whole number of periods"),
    work=_work,
    slips=(
        _ONE_ONLY,
        _ONE_TOO_MANY,
        _ONE_TOO_FEW,
        _PERIOD_TWICE_AS_LONG,
        _PERIODS_CANCEL,
        _HALVES_ADDED,
        _HALF_ONLY,
    ),
)
