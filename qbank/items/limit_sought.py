"""Find the number a for which the integral up to a has a given value: a is drawn, the value follows, a is the only one.

    "The number a lies between 0 and 5, and the integral of 2x + 1 from 0 to a is 12. Find a."

Between the bounds that the question states the integrand keeps its sign, which is proved from its zeros, all of them
known; so the integral only grows with a, or only falls, and takes the value once. Rigorous quadrature a little before
and behind a says that it is there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from qbank.items.item import Sought
from qbank.maths.deciding import decide_equal, exact_value
from qbank.maths.enclosing import enclose
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Integral, Symbol, rational
from qbank.maths.moduli import Split, split_at_zeros
from qbank.maths.number_system import Undefined
from qbank.maths.quadrature import Enclosed, integrate_rigorously
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Proof, Proved
from qbank.messages import say
from qbank.techniques.definite import at_limits, pi_over
from qbank.techniques.definites.leaf import Leaf
from qbank.techniques.presenting import Row, as_they_stand
from qbank.techniques.working import Line

__all__ = ["LimitSought", "SoughtRefused", "limit_sought"]

#: how near before and behind the number the integral is enclosed
_NEAR = Fraction(1, 10**9)


class SoughtRefused(Exception):  # noqa: N818 - a refusal is an answer, not an error
    """The number is not certain to be the only one; the text says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitSought:
    """The question, its key and the working.

    Attributes:
        sought: what the question says.
        key: the number.
        proof: that the integral up to it has the value.
        enclosure: rigorous bounds of the number, found without an antiderivative.
        working: the rows, from the integral to the number.
    """

    sought: Sought
    key: Expression
    proof: Proof
    enclosure: tuple[Fraction, Fraction]
    working: tuple[Row, ...]


def limit_sought(
    leaf: Leaf, letter: Symbol, key: Fraction, bounds: tuple[Expression, Expression]
) -> LimitSought:
    """Ask for the upper limit.

    Args:
        leaf: the integral up to the letter, with its lines to square brackets.
        letter: what the number is called.
        key: the number.
        bounds: between which the question says that it lies.

    Raises:
        SoughtRefused: the lines cannot have limits, the integrand may change its sign between the bounds, the number
            does not lie there, or the value is not certain.
    """
    integral, found = leaf.start, leaf.found
    split = split_at_zeros(integral.integrand, integral.variable, *bounds)
    if split is None or split.places:
        raise SoughtRefused("the integrand is not certain to keep its sign between the bounds")
    if found is None or found.antiderivative is None or integral.lower is None:
        raise SoughtRefused("the working cannot have its limits in every line")
    last = found.last
    written = at_limits(found.antiderivative, last.letter, last.lower, last.upper)
    number = rational(key)
    try:
        value = pi_over(exact_value(written.substitute({letter: number})))
    except Undefined:
        raise SoughtRefused("the antiderivative has no value at a limit") from None
    verdict = decide_equal(written.substitute({letter: number}), value, integral.variable)
    if not isinstance(verdict, Proved) or value.symbols():
        raise SoughtRefused("the value could not be proved")
    sought = Sought(letter=letter, lower=bounds[0], upper=bounds[1], value=value)
    enclosure = _enclosed(integral, key, value, split)
    lines = (*leaf.lines, *_lines(written, sought, number, verdict.proof, split))
    start = Row(kind="start", statements=(integral,))
    return LimitSought(
        sought=sought,
        key=number,
        proof=verdict.proof,
        enclosure=enclosure,
        working=(start, *as_they_stand(lines)),
    )


def _enclosed(
    integral: Integral, key: Fraction, value: Expression, split: Split
) -> tuple[Fraction, Fraction]:
    """The number between two others at which the integral provably lies on either side of the value."""
    assert integral.lower is not None
    ends = (key - _NEAR, key + _NEAR)
    found = [
        integrate_rigorously(integral.integrand, integral.variable, integral.lower, rational(end))
        for end in ends
    ]
    before, behind = found if split.signs[0] > 0 else reversed(found)
    known = _known(value)
    if (
        not isinstance(before, Enclosed)
        or not isinstance(behind, Enclosed)
        or not before.upper < known[0] <= known[1] < behind.lower
    ):
        raise SoughtRefused("quadrature does not confirm the number")
    return ends


def _known(value: Expression) -> tuple[Fraction, Fraction]:
    bounds = enclose(value, at={}, digits=30)
    if bounds is None:
        raise SoughtRefused("the value is not a number")
    return bounds.lower, bounds.upper


def _lines(
    written: Expression, sought: Sought, number: Expression, proof: Proof, split: Split
) -> Iterator[Line]:
    """The equation for the number, and the number."""
    yield Line(
        kind="statement",
        statements=(Equation(pi_over(tidy(written)), sought.value),),
        rule="given-value",
        reason=say("This has the given value."),
        proof=proof,
    )
    reason = (
        say(
            "The integrand is positive between the bounds, so the integral only grows: there is one such number."
        )
        if split.signs[0] > 0
        else say(
            "The integrand is negative between the bounds, so the integral only falls: there is one such number."
        )
    )
    yield Line(
        kind="statement",
        statements=(Equation(sought.letter, number),),
        rule="only-solution",
        reason=reason,
        proof=split.proof,
    )
