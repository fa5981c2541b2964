"""Mean value on an interval, and displacement from a velocity: one integral along the axis, as it stands.

M = 1/(b - a) integral of f,    s = integral of v
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from qbank.maths.deciding import exact_value
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Integer, Quotient, Symbol, difference
from qbank.maths.number_system import Undefined
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
from qbank.techniques.applications.meeting import meeting
from qbank.techniques.applications.steps import (
    collected,
    ends_of,
    equal,
    integrated,
    line,
    require_continuous,
)

__all__ = ["displacement", "mean_value"]

ONE = Integer(1)


def displacement(asked: Asked) -> SetUp:
    """How far from its place, and in which direction, a velocity takes a body.

    Raises:
        ApplicationRefused: the velocity is not certain to be defined all the time.
    """
    velocity, part = _alone(asked)
    letter = Symbol("s")
    integrand = collected(velocity, asked.variable)
    proof = equal(velocity, integrand, asked.variable)
    reason = say("The displacement is the integral of the velocity.")
    whole = signed(integrand, asked.variable, (part,))
    return SetUp(
        asked=asked,
        letter=letter,
        lines=(line(Equation(letter, whole), reason=reason, rule="set-up", proof=proof),),
        front=ONE,
        integrand=integrand,
        parts=(part,),
        places=(),
        wrong=tuple(_wrong_displacements(asked, part)),
    )


def mean_value(asked: Asked) -> SetUp:
    """The height of the rectangle on the interval that has the area of the integral.

    Raises:
        ApplicationRefused: the function is not certain to be defined on the whole interval.
    """
    function, part = _alone(asked)
    letter = Symbol("M")
    length = exact_value(difference(part.upper, part.lower))
    front = ONE if length == ONE else exact_value(Quotient(ONE, length))
    integrand = collected(function, asked.variable)
    proof = equal(function, integrand, asked.variable)
    whole = in_front(front, signed(integrand, asked.variable, (part,)))
    reason = say("The mean value is the integral divided by the length of the interval.")
    return SetUp(
        asked=asked,
        letter=letter,
        lines=(line(Equation(letter, whole), reason=reason, rule="set-up", proof=proof),),
        front=front,
        integrand=integrand,
        parts=(part,),
        places=(),
        wrong=tuple(_wrong_means(asked, part, length)),
    )


def _alone(asked: Asked) -> tuple[Expression, Part]:
    """The only curve, and its limits, which have to be given."""
    if asked.limits is None or len(asked.curves) != 1:
        raise ApplicationRefused("one function and two limits are wanted")
    ends_of(*asked.limits)
    require_continuous(asked.curves[0], asked.variable, *asked.limits)
    return asked.curves[0], Part(sign=1, lower=asked.limits[0], upper=asked.limits[1])


# What students do with means and motion (common practice: from the marking of scripts, not from a published table).


def _wrong_displacements(asked: Asked, part: Part) -> Iterator[Wrong]:
    (velocity,), t = asked.curves, asked.variable
    first, last = (velocity.substitute({t: end}) for end in (part.lower, part.upper))
    time = difference(part.upper, part.lower)
    yield Wrong(
        slip="displacement-distance-instead",
        sentence=say("This is the distance: for the displacement, stretches forwards and backwards cancel."),
        value=partial(_distance, asked),
    )
    yield Wrong(
        slip="displacement-change-of-velocity",
        sentence=say("This is how much the velocity changes; the displacement is its integral."),
        value=lambda: difference(last, first),
    )
    yield Wrong(
        slip="displacement-velocity-times-time",
        sentence=say("The velocity is not the same all the time, so velocity times time is not enough."),
        value=lambda: last * time,
    )
    yield Wrong(
        slip="displacement-mean-of-the-ends",
        sentence=say("The mean of the first and the last velocity works only for a constant acceleration."),
        value=lambda: (first + last) / 2 * time,
    )
    yield Wrong(
        slip="displacement-first-velocity-times-time",
        sentence=say("The velocity does not stay what it is at first."),
        value=lambda: first * time,
    )


def _distance(asked: Asked) -> Expression | None:
    """The distance as a sum of integrals as written; None where it is the displacement, or cannot be told."""
    try:
        met = meeting(
            Asked(kind="distance", curves=asked.curves, variable=asked.variable, limits=asked.limits)
        )
    except (ApplicationRefused, Undefined):
        return None
    total: Expression | None = None
    speed = collected(difference(met.upper, met.lower), asked.variable)
    for part in met.parts:
        value = integrated(speed, asked.variable, part.lower, part.upper)
        if value is None:
            return None
        value = value if part.sign > 0 else -value
        total = value if total is None else total + value
    return total


def _wrong_means(asked: Asked, part: Part, length: Expression) -> Iterator[Wrong]:
    (function,), x = asked.curves, asked.variable
    start, end = part.lower, part.upper
    first, last = (function.substitute({x: place}) for place in (start, end))

    def over(factor: Expression) -> Expression | None:
        value = integrated(function, x, start, end)
        return None if value is None else in_front(factor, value)

    yield Wrong(
        slip="mean-not-divided",
        sentence=say(
            "This is the integral; the mean value is the integral divided by the length of the interval."
        ),
        value=partial(over, ONE),
    )
    yield Wrong(
        slip="mean-of-the-ends",
        sentence=say("The mean of the values at both ends leaves out everything between them."),
        value=lambda: (first + last) / 2,
    )
    yield Wrong(
        slip="mean-value-in-the-middle",
        sentence=say("The value in the middle of the interval is not the mean of all values."),
        value=lambda: function.substitute({x: (start + end) / 2}),
    )
    yield Wrong(
        slip="mean-slope",
        sentence=say("This is the mean slope; the mean value comes from the integral."),
        value=lambda: difference(last, first) / length,
    )
    yield Wrong(
        slip="mean-multiplied",
        sentence=say("Divide by the length of the interval, do not multiply by it."),
        value=partial(over, length),
    )
    if start != Integer(0):
        yield Wrong(
            slip="mean-divided-by-the-limit",
            sentence=say("Divide by the length of the interval, which is upper limit minus lower limit."),
            value=partial(over, Quotient(ONE, end)),
        )
