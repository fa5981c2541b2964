"""Volumes of revolution about the axis: a slice is a disc, or a disc with a round hole.

V = pi integral of y^2,    V = pi integral of (outer^2 - inner^2)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial

from qbank.maths.crossings import ZerosUnknown, signs_between
from qbank.maths.equation import Equation
from qbank.maths.expression import PI, Expression, Integer, Negate, Sum, Symbol, difference, sum_of
from qbank.maths.squaring import squared
from qbank.messages import say
from qbank.techniques.applications.asked import (
    ApplicationRefused,
    Asked,
    Part,
    SetUp,
    Wrong,
    in_front,
    signed,
)
from qbank.techniques.applications.meeting import Meeting, meeting
from qbank.techniques.applications.steps import collected, equal, integrated, line, require_continuous
from qbank.techniques.working import Line

__all__ = ["volume"]

NOUGHT = Integer(0)
_V = Symbol("V")


def volume(asked: Asked) -> SetUp:
    """The volume of the solid that the region sweeps out when it is turned once about the axis.

    Raises:
        ApplicationRefused: see `meeting`; or the axis runs through a region between two curves.
    """
    if len(asked.curves) == 1 and asked.limits is not None:
        return _of_one_curve(asked, asked.limits)
    met = meeting(asked)
    limits = (met.parts[0].lower, met.parts[-1].upper)
    if len(asked.curves) == 1:
        # the sign does not matter: only the places are needed
        return _of_one_curve(asked, limits, met)
    return _of_two_curves(asked, met)


def _of_one_curve(asked: Asked, limits: tuple[Expression, Expression], met: Meeting | None = None) -> SetUp:
    (curve,), x = asked.curves, asked.variable
    require_continuous(curve, x, *limits)
    integrand = squared(curve, x)
    part = Part(sign=1, lower=limits[0], upper=limits[1])
    reason = say("A slice across the axis is a disc; its radius is the value of the curve.")
    lines = () if met is None else tuple(one for one in met.lines if one.rule != "sign-between")
    return SetUp(
        asked=asked,
        letter=_V,
        lines=(*lines, *_lines(x, curve**2, integrand, (part,), reason)),
        front=PI,
        integrand=integrand,
        parts=(part,),
        places=() if met is None else met.places,
        wrong=tuple(_wrong(asked, (part,), integrand, curve, NOUGHT)),
    )


def _of_two_curves(asked: Asked, met: Meeting) -> SetUp:
    x = asked.variable
    sides = [_side_of_region(asked.curves, part, x) for part in met.parts]
    # below the axis the lower curve is the outer one
    outer, inner = (met.upper, met.lower) if sides[0] > 0 else (met.lower, met.upper)
    parts = _joined(
        replace(part, sign=part.sign * side * sides[0]) for part, side in zip(met.parts, sides, strict=True)
    )
    integrand = collected(difference(squared(outer, x), squared(inner, x)), x)
    reason = (
        say("A slice across the axis is a disc with a round hole: the outer square minus the inner one.")
        if len(parts) == 1
        else say(
            "A slice is a disc with a round hole; where the curves change places, the integral is subtracted."
        )
    )
    written = difference(outer**2, inner**2)
    return SetUp(
        asked=asked,
        letter=_V,
        lines=(*met.lines, *_lines(x, written, integrand, parts, reason)),
        front=PI,
        integrand=integrand,
        parts=parts,
        places=met.places,
        wrong=tuple(_wrong(asked, parts, integrand, outer, inner)),
    )


def _side(curve: Expression, part: Part, variable: Symbol) -> int:
    """1 where a curve is nowhere below the axis on a stretch, -1 where it is nowhere above, 0 where it is the axis."""
    if collected(curve, variable) == NOUGHT:
        return 0
    try:
        signs = signs_between(curve, variable, part.lower, part.upper).merged().signs
    except ZerosUnknown as problem:
        raise ApplicationRefused(str(problem)) from problem
    if len(signs) > 1:
        raise ApplicationRefused("the axis runs through the region, so that parts of the solid would overlap")
    return signs[0]


def _side_of_region(curves: tuple[Expression, ...], part: Part, variable: Symbol) -> int:
    """On which side of the axis two curves lie on a stretch."""
    sides = {_side(curve, part, variable) for curve in curves} - {0}
    if len(sides) != 1:
        raise ApplicationRefused("the axis runs through the region, so that parts of the solid would overlap")
    return sides.pop()


def _joined(parts: Iterable[Part]) -> tuple[Part, ...]:
    """Stretches with neighbours of the same sign made one."""
    found: list[Part] = []
    for part in parts:
        if found and found[-1].sign == part.sign:
            found[-1] = replace(found[-1], upper=part.upper)
        else:
            found.append(part)
    return tuple(found)


def _lines(
    variable: Symbol, written: Expression, integrand: Expression, parts: tuple[Part, ...], reason: str
) -> Iterator[Line]:
    proof = equal(written, integrand, variable)
    yield line(
        Equation(_V, in_front(PI, signed(written, variable, parts))),
        reason=reason,
        rule="set-up",
        proof=proof,
    )
    if integrand != written:
        yield line(
            in_front(PI, signed(integrand, variable, parts)),
            reason=say("Square, and collect like terms."),
            rule="square",
            proof=proof,
            kind="step",
        )


# What students do with volumes (common practice: from the marking of scripts, not from a published table).


def _wrong(
    asked: Asked, parts: tuple[Part, ...], integrand: Expression, outer: Expression, inner: Expression
) -> Iterator[Wrong]:
    x, (start, end) = asked.variable, (parts[0].lower, parts[-1].upper)
    two = inner != NOUGHT

    def over(tree: Expression, front: Expression = PI) -> Expression | None:
        value = integrated(tree, x, start, end)
        return None if value is None else in_front(front, value)

    yield Wrong(
        slip="volume-pi-forgotten",
        sentence=say("The slices are discs, so the area of each has the factor pi."),
        value=partial(over, integrand, Integer(1)),
    )
    yield Wrong(
        slip="volume-square-forgotten",
        sentence=say(
            "The area of a disc has the square of its radius: square the function before integrating."
        ),
        value=partial(over, difference(outer, inner) if two else outer),
    )
    if two:
        yield Wrong(
            slip="volume-difference-squared",
            sentence=say("Take the difference of the squares, not the square of the difference."),
            value=partial(over, squared(difference(outer, inner), x)),
        )
        yield Wrong(
            slip="volume-hole-forgotten",
            sentence=say("The solid is hollow: the part inside the inner curve has to go."),
            value=partial(over, squared(outer, x)),
        )
        yield Wrong(
            slip="volume-hole-added",
            sentence=say("The hole is taken away, not added."),
            value=partial(over, sum_of(squared(outer, x), squared(inner, x))),
        )
        yield Wrong(
            slip="volume-sign-turned",
            sentence=say("A volume is positive: subtract the inner square from the outer one."),
            value=partial(over, Negate(integrand)),
        )
    yield Wrong(
        slip="volume-circumference",
        sentence=say(
            "A slice has the area of a disc, with the square of the radius, not the length of a circle."
        ),
        value=partial(over, difference(outer, inner) if two else outer, 2 * PI),
    )
    yield Wrong(
        slip="volume-squared-after-integrating",
        sentence=say("Square first and integrate then; the square of the integral is something else."),
        value=lambda: _square_of(over(difference(outer, inner) if two else outer, Integer(1))),
    )
    if isinstance(outer, Sum) and not two:
        yield Wrong(
            slip="volume-squared-term-by-term",
            sentence=say("The square of a sum has the double product too."),
            value=partial(over, sum_of(*(squared(term, x) for term in outer.terms))),
        )


def _square_of(value: Expression | None) -> Expression | None:
    return None if value is None else in_front(PI, value**2)
