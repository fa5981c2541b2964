"""Where two curves meet, or one meets the axis, and which of them is above in between: found, proved and told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from qbank.maths.crossings import Signs, ZerosUnknown, real_zeros, signs_between, zeros_from_to
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Integer, Power, Symbol, difference, product, rational
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.polynomial_factors import factorise
from qbank.messages import say
from qbank.techniques.applications.asked import ApplicationRefused, Asked, Part
from qbank.techniques.applications.steps import (
    collected,
    ends_of,
    equal,
    line,
    place_inside,
    require_continuous,
    value_at,
)
from qbank.techniques.working import Line

__all__ = ["Meeting", "meeting"]

NOUGHT = Integer(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """Two functions compared from one limit to the other.

    Attributes:
        upper: the function that is larger on the first stretch.
        lower: the other one.
        parts: the stretches, each with 1 where `upper` is the larger, -1 where it is not.
        places: where the curves meet, in order, limits among them.
        lines: how that is found.
    """

    upper: Expression
    lower: Expression
    parts: tuple[Part, ...]
    places: tuple[Expression, ...]
    lines: tuple[Line, ...]


def meeting(asked: Asked) -> Meeting:
    """Compare the curve with the axis, or with the other curve.

    Args:
        asked: the question; without limits they are the first and the last place where the curves meet.

    Raises:
        ApplicationRefused: the curves do not enclose anything, or what is needed could not be proved.
    """
    first = asked.curves[0]
    second = asked.curves[1] if len(asked.curves) > 1 else NOUGHT
    gap = collected(difference(first, second), asked.variable)
    if gap == NOUGHT:
        raise ApplicationRefused("the two curves are the same")
    limits = asked.limits or _enclosing(gap, asked.variable)
    for tree in asked.curves:
        require_continuous(tree, asked.variable, *limits)
    signs = _signs(gap, asked.variable, limits)
    ends = (limits[0], *signs.places, limits[1])
    parts = tuple(
        Part(sign=sign * signs.signs[0], lower=low, upper=high)
        for sign, (low, high) in zip(signs.signs, pairwise(ends), strict=True)
    )
    places = _places(gap, asked.variable, limits) if asked.limits is None else signs.places
    above, below = (first, second) if signs.signs[0] > 0 else (second, first)
    lines = tuple(_meeting_lines(first, second, gap, asked, places)) if places else ()
    lines += tuple(_above_lines(first, second, asked, signs, parts))
    return Meeting(upper=above, lower=below, parts=parts, places=places, lines=lines)


def _enclosing(gap: Expression, variable: Symbol) -> tuple[Expression, Expression]:
    try:
        zeros = real_zeros(gap, variable)
    except ZerosUnknown as problem:
        raise ApplicationRefused(str(problem)) from problem
    if len(zeros) < 2:
        raise ApplicationRefused("there are no two places where the curves meet, so nothing is enclosed")
    return zeros[0], zeros[-1]


def _signs(gap: Expression, variable: Symbol, limits: tuple[Expression, Expression]) -> Signs:
    ends_of(*limits)
    try:
        return signs_between(gap, variable, *limits).merged()
    except ZerosUnknown as problem:
        raise ApplicationRefused(str(problem)) from problem


def _places(
    gap: Expression, variable: Symbol, limits: tuple[Expression, Expression]
) -> tuple[Expression, ...]:
    try:
        return zeros_from_to(gap, variable, *limits)
    except ZerosUnknown as problem:
        raise ApplicationRefused(str(problem)) from problem


def _meeting_lines(
    first: Expression, second: Expression, gap: Expression, asked: Asked, places: tuple[Expression, ...]
) -> Iterator[Line]:
    variable = asked.variable
    proofs = [
        equal(first.substitute({variable: x}), second.substitute({variable: x}), variable) for x in places
    ]
    yield line(
        Equation(first, second),
        reason=say("The direction changes where the velocity is 0.")
        if asked.kind == "distance"
        else say("The curve meets the axis where its value is 0.")
        if second == NOUGHT
        else say("The curves meet where their values are equal."),
        rule="curves-meet",
        proof=proofs[0],
    )
    factors = _in_factors(gap, variable)
    if factors is not None and Equation(factors, NOUGHT) != Equation(first, second):
        yield line(
            Equation(factors, NOUGHT),
            reason=say("Bring everything to one side and factorise."),
            rule="factorise",
            proof=equal(factors, gap, variable),
        )
    yield line(
        *(Equation(variable, place) for place in places),
        reason=say("Solve for {letter}.", letter=variable.name)
        if asked.limits is None
        else say("Solve for {letter}; this is all that lies between the limits.", letter=variable.name),
        rule="places-found",
        proof=proofs[-1],
    )


def _in_factors(gap: Expression, variable: Symbol) -> Expression | None:
    """A polynomial taken apart into linear factors; None where that is not how it is solved."""
    coefficients = as_polynomial(gap, variable)
    if coefficients is None:
        return None
    number, factors = factorise(coefficients)
    if any(len(factor) > 2 for factor, _ in factors):
        return None
    # the variable alone stands in front, and a minus sign turns a bracket x - 2 into 2 - x
    ordered = sorted(factors, key=lambda pair: pair[0] != (0, 1))
    for at, (factor, exponent) in enumerate(ordered):
        if number < 0 and exponent % 2 and factor[0] < 0:
            number, ordered[at] = -number, (tuple(-c for c in factor), exponent)
    trees = [
        tree if exponent == 1 else Power(tree, Integer(exponent))
        for factor, exponent in ordered
        for tree in (polynomial_tree(factor, variable),)
    ]
    size = abs(number)
    whole = product(*(trees if size == 1 else (rational(size), *trees)))
    return whole if number > 0 else -whole


def _above_lines(
    first: Expression, second: Expression, asked: Asked, signs: Signs, parts: tuple[Part, ...]
) -> Iterator[Line]:
    """For each stretch one value, which decides for all of it."""
    for sign, part in zip(signs.signs, parts, strict=True):
        place = place_inside(part.lower, part.upper)
        tree = first if second == NOUGHT else difference(first, second)
        value = value_at(tree, asked.variable, place)
        yield line(
            value,
            reason=_reason(asked, sign, alone=second == NOUGHT),
            rule="sign-between",
            proof=equal(value.left, value.right, asked.variable)
            if isinstance(value, Equation)
            else equal(value, value, asked.variable),
        )


def _reason(asked: Asked, sign: int, *, alone: bool) -> str:
    if asked.kind == "distance":
        if sign > 0:
            return say("The velocity keeps its sign here, and one value decides: it is positive, forwards.")
        return say("The velocity keeps its sign here, and one value decides: it is negative, backwards.")
    if alone:
        if sign > 0:
            return say("The curve does not cross the axis here, and one value decides: it lies above.")
        return say("The curve does not cross the axis here, and one value decides: it lies below.")
    if sign > 0:
        return say(
            "The curves do not cross here, and one difference decides: it is positive, so the first curve is the upper one."
        )
    return say(
        "The curves do not cross here, and one difference decides: it is negative, so the second curve is the upper one."
    )
