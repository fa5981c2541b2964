"""Areas: between a curve and the axis, or between two curves; and the distance travelled, which is the area below a speed.

A = integral of (upper - lower), taken apart where the curves cross
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Integer, Negate, Symbol, difference, sum_of
from qbank.messages import say
from qbank.techniques.applications.asked import Asked, Part, SetUp, Wrong, signed
from qbank.techniques.applications.meeting import Meeting, meeting
from qbank.techniques.applications.steps import collected, equal, integrated, line
from qbank.techniques.working import Line

__all__ = ["area", "distance"]

NOUGHT = Integer(0)


def area(asked: Asked) -> SetUp:
    """The area between the curves, or between the curve and the axis.

    Raises:
        ApplicationRefused: see `meeting`.
    """
    return _set_up(asked, Symbol("A"))


def distance(asked: Asked) -> SetUp:
    """The distance travelled: every stretch counts, in whichever direction.

    Raises:
        ApplicationRefused: see `meeting`.
    """
    return _set_up(asked, Symbol("s"))


def _set_up(asked: Asked, letter: Symbol) -> SetUp:
    met = meeting(asked)
    written = difference(met.upper, met.lower) if met.lower != NOUGHT else met.upper
    if met.upper == NOUGHT:
        written = Negate(met.lower)
    integrand = collected(written, asked.variable)
    return SetUp(
        asked=asked,
        letter=letter,
        lines=(*met.lines, *_lines(asked, letter, met, written, integrand)),
        front=Integer(1),
        integrand=integrand,
        parts=met.parts,
        places=met.places,
        wrong=tuple(_wrong(asked, met, integrand)),
    )


def _lines(
    asked: Asked, letter: Symbol, met: Meeting, written: Expression, integrand: Expression
) -> Iterator[Line]:
    proof = equal(written, integrand, asked.variable)
    if asked.kind == "distance":
        reason = say("Distance counts both ways: where the velocity is negative, its integral is subtracted.")
    elif len(met.parts) > 1 and len(asked.curves) > 1:
        reason = say("Take upper minus lower; where the curves change places, the integral is subtracted.")
    elif len(met.parts) > 1:
        reason = say("An integral is negative below the axis, so that part is subtracted.")
    elif len(asked.curves) > 1:
        reason = say("The area is the integral of upper minus lower.")
    elif met.upper == NOUGHT:
        reason = say("The region lies below the axis, so its area is the integral with the other sign.")
    else:
        reason = say("The region lies above the axis, so its area is the integral.")
    whole = signed(written, asked.variable, met.parts)
    yield line(Equation(letter, whole), reason=reason, rule="set-up", proof=proof)
    if integrand != written:
        yield line(
            signed(integrand, asked.variable, met.parts),
            reason=say("Collect like terms."),
            rule="collect",
            proof=proof,
            kind="step",
        )


# What students do with areas (common practice: from the marking of scripts, not from a published table).


def _wrong(asked: Asked, met: Meeting, integrand: Expression) -> Iterator[Wrong]:
    x, (start, end) = asked.variable, (met.parts[0].lower, met.parts[-1].upper)
    if len(met.parts) > 1:
        yield Wrong(
            slip="distance-displacement-instead" if asked.kind == "distance" else "area-crossing-ignored",
            sentence=say(
                "This is the displacement: stretches forwards and backwards cancel, and for a distance they add up."
            )
            if asked.kind == "distance"
            else say("Parts above and below cancel here. Take the integral apart where the curves cross."),
            value=partial(integrated, integrand, x, start, end),
        )
        yield Wrong(
            slip=f"{asked.kind}-one-part-only",
            sentence=say("This is the first part alone; the others count too."),
            value=partial(integrated, integrand, x, met.parts[0].lower, met.parts[0].upper),
        )
        yield Wrong(
            slip=f"{asked.kind}-last-part-only",
            sentence=say("This is the last part alone; the others count too."),
            value=partial(_opposite, integrand, x, met.parts[-1]),
        )
    if len(asked.curves) > 1:
        yield Wrong(
            slip="area-one-curve-forgotten",
            sentence=say("This is the area under the upper curve; the part under the lower one has to go."),
            value=partial(integrated, met.upper, x, start, end),
        )
        yield Wrong(
            slip="area-curves-added",
            sentence=say("The area between two curves is a difference, not a sum."),
            value=partial(integrated, sum_of(met.upper, met.lower), x, start, end),
        )
    if len(met.parts) == 1:
        yield Wrong(
            slip=f"{asked.kind}-sign-turned",
            sentence=say("An area is positive: subtract the lower curve from the upper one.")
            if asked.kind == "area"
            else say("A distance is positive."),
            value=partial(integrated, Negate(integrand), x, start, end),
        )
    yield Wrong(
        slip=f"{asked.kind}-not-integrated",
        sentence=say("The limits go into an antiderivative, not into the function itself."),
        value=lambda: difference(integrand.substitute({x: end}), integrand.substitute({x: start})),
    )
    yield Wrong(
        slip=f"{asked.kind}-as-a-trapezium",
        sentence=say("The edge is curved, so the mean of the values at both ends is not enough."),
        value=lambda: (
            (integrand.substitute({x: start}) + integrand.substitute({x: end})) / 2 * difference(end, start)
        ),
    )
    yield Wrong(
        slip=f"{asked.kind}-squared",
        sentence=say("Squares belong to volumes; here the function itself is integrated."),
        value=partial(integrated, integrand**2, x, start, end),
    )


def _opposite(integrand: Expression, variable: Symbol, part: Part) -> Expression | None:
    value = integrated(integrand, variable, part.lower, part.upper)
    return None if value is None else value if part.sign > 0 else Negate(value)
