"""The length of a curve, where the root can be taken: `L = integral of sqrt(1 + y'^2)`.

The sum below the root is a square for the curves of a course in a few ways, each tried and proved:

    y' = p - q with 4pq = 1:  1 + y'^2 = (p + q)^2        x^3/6 + 1/(2x), x^2/4 - ln(x)/2, the catenary in exponentials
    y' = sinh u:              1 + y'^2 = cosh(u)^2        the catenary
    y' = tan u:               1 + y'^2 = sec(u)^2         ln cos x
    y' = -x / y:              1 + y'^2 = (r/y)^2          the circle with the radius r

Otherwise the root stays, and the integral is one that a technique has to know.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from qbank.maths.clock import PATIENT
from qbank.maths.crossings import ZerosUnknown, signs_between
from qbank.maths.deciding import decide_equal
from qbank.maths.derivative import derivative
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Differential,
    Expression,
    Integer,
    Negate,
    Quotient,
    Sum,
    Symbol,
    as_fraction,
    difference,
    opposite,
    product,
    rational,
    sqrt,
    sum_of,
)
from qbank.maths.squaring import squared
from qbank.maths.surds import square_root
from qbank.maths.tidying import split_coefficient, tidy
from qbank.maths.verdict import Proved
from qbank.messages import say
from qbank.techniques.applications.asked import ApplicationRefused, Asked, Part, SetUp, Wrong, signed
from qbank.techniques.applications.steps import (
    collected,
    ends_of,
    equal,
    integrated,
    line,
    require_continuous,
)

__all__ = ["arc_length"]

ONE = Integer(1)
_L = Symbol("L")


def arc_length(asked: Asked) -> SetUp:
    """The length of the curve from one limit to the other.

    Raises:
        ApplicationRefused: the curve, or its slope, is not certain to be defined all the way.
    """
    if asked.limits is None or len(asked.curves) != 1:
        raise ApplicationRefused("one function and two limits are wanted")
    (curve,), x, limits = asked.curves, asked.variable, asked.limits
    ends_of(*limits)
    slope = derivative(curve, x)
    require_continuous(curve, x, *limits)
    require_continuous(slope, x, *limits)
    below = collected(sum_of(ONE, squared(slope, x)), x)
    root = _root(slope, x, limits)
    integrand = sqrt(below) if root is None else root
    part = Part(sign=1, lower=limits[0], upper=limits[1])
    proof = equal(below if root is None else squared(root, x), 1 + slope**2, x)
    rate = Quotient(Differential(Symbol("y")), Differential(x))
    lines = [
        line(
            Equation(rate, slope),
            reason=say("Differentiate: the length depends on the slope."),
            rule="slope",
            proof=equal(slope, slope, x),
        ),
        line(
            Equation(1 + rate**2, below if root is None else root**2),
            reason=say("Square the slope and add 1.")
            if root is None
            else say("Square the slope and add 1: the sum is a square again."),
            rule="one-and-slope-squared",
            proof=proof,
        ),
        line(
            Equation(_L, signed(integrand, x, (part,))),
            reason=say("The length is the integral of the root of this sum."),
            rule="set-up",
            proof=proof,
        ),
    ]
    return SetUp(
        asked=asked,
        letter=_L,
        lines=tuple(lines),
        front=ONE,
        integrand=integrand,
        parts=(part,),
        places=(),
        wrong=tuple(_wrong(curve, slope, x, part)),
    )


def _root(slope: Expression, variable: Symbol, limits: tuple[Expression, Expression]) -> Expression | None:
    """The positive root of 1 + slope^2 where that is a square; None where none is seen."""
    for guess in (*_guesses(slope), *_over_a_root(squared(slope, variable), variable)):
        verdict = decide_equal(guess**2, 1 + slope**2, variable, budget=PATIENT)
        if not isinstance(verdict, Proved):
            continue
        try:
            signs = set(signs_between(guess, variable, *limits).signs)
        except ZerosUnknown:
            continue
        if len(signs) == 1:
            return guess if signs == {1} else tidy(Negate(guess))
    return None


def _guesses(slope: Expression) -> Iterator[Expression]:
    size, body = split_coefficient(slope)
    match body:
        case Sum((first, second)):
            turned = opposite(second)
            yield tidy(product(rational(size), sum_of(first, turned)))
    match body:
        case Apply("sinh", argument):
            yield Apply("cosh", argument)
        case Apply("tan", argument):
            yield Apply("sec", argument)
        case Apply("cot", argument):
            yield Apply("cosec", argument)
        case Quotient(Apply("sin", over), Apply("cos", under)) if over == under:
            yield Apply("sec", over)


def _over_a_root(square: Expression, variable: Symbol) -> Iterator[Expression]:
    """A number over a root, where 1 and the square of the slope add up to a number over a polynomial: a circle."""
    match square:
        case Quotient(over, under):
            total = as_fraction(collected(sum_of(over, under), variable))
            root = None if total is None or total <= 0 else square_root(total)
            if root is not None:
                yield tidy(Quotient(root.tree(), sqrt(collected(under, variable))))


# What students do with lengths (common practice: from the marking of scripts, not from a published table).


def _wrong(curve: Expression, slope: Expression, x: Symbol, part: Part) -> Iterator[Wrong]:
    start, end = part.lower, part.upper
    rise = difference(curve.substitute({x: end}), curve.substitute({x: start}))
    run = difference(end, start)
    yield Wrong(
        slip="length-root-forgotten",
        sentence=say("A length comes from Pythagoras, so the sum stands below a root."),
        value=partial(integrated, sum_of(ONE, squared(slope, x)), x, start, end),
    )
    yield Wrong(
        slip="length-straight",
        sentence=say("This is the straight way between the two ends; the curve is longer."),
        value=lambda: sqrt(sum_of(run**2, rise**2)),
    )
    yield Wrong(
        slip="length-root-term-by-term",
        sentence=say("The root of a sum is not the sum of the roots."),
        value=lambda: sum_of(run, rise),
    )
    yield Wrong(
        slip="length-one-forgotten",
        sentence=say(
            "Below the root stands 1 plus the square of the slope; without the 1 only the rise is left."
        ),
        value=lambda: rise,
    )
    yield Wrong(
        slip="length-area-instead",
        sentence=say("This is the area under the curve, not its length."),
        value=partial(integrated, curve, x, start, end),
    )
    yield Wrong(
        slip="length-function-for-slope",
        sentence=say("It is the slope that is squared, not the function."),
        value=partial(integrated, sum_of(ONE, squared(curve, x)), x, start, end),
    )
    yield Wrong(
        slip="length-slope-not-squared",
        sentence=say("Square the slope before adding 1."),
        value=partial(integrated, sqrt(collected(sum_of(ONE, slope), x)), x, start, end),
    )
