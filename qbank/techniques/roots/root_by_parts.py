"""The root of a square and a letter by parts: the integral comes back, and one over the root is left.

int sqrt(x^2 + k) dx = x sqrt(x^2 + k) - int x^2/sqrt(x^2 + k) dx      x^2 = (x^2 + k) - k
2 int sqrt(x^2 + k) dx = x sqrt(x^2 + k) + k int 1/sqrt(x^2 + k) dx    whatever the sign of k

With a number in place of k a trigonometric substitution is taught first.
"""

from __future__ import annotations

from qbank.maths.constant_factor import before_integral, in_front, number, times
from qbank.maths.derivative import derivative
from qbank.maths.expression import (
    Expression,
    Integer,
    Integral,
    Negate,
    Quotient,
    Sum,
    Symbol,
    fraction,
    opposite,
    sum_of,
)
from qbank.messages import say
from qbank.techniques.carrying import multiplied
from qbank.techniques.circular.circular_powers import spare_pair
from qbank.techniques.roots.root_of_square import RootOfSquare, root_of_square
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost, slips_of
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "root-by-parts"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    seen = root_of_square(integrand, variable)
    return None if seen is None else _worked(integrand, seen)


def _worked(integrand: Expression, seen: RootOfSquare) -> WorkedSolution:
    x, constant = seen.variable, seen.constant
    working = Working(_IDENTIFIER, integrand, x)
    whole, first = Integral(seen.root, x), seen.first()
    if before_integral(constant, whole) != Integral(integrand, x):
        working.step(before_integral(constant, whole), "constant-factor", say("Take the constant out."))
    u, v = spare_pair(sum_of(integrand, x))
    working.let(u, seen.root, derivative(seen.root, x), say("By parts, with the root differentiated."))
    working.let(v, seen.other, Integer(1), say("The rest is integrated."))

    def line(*terms: Expression) -> Expression:
        return multiplied(constant, sum_of(*terms))

    rule = say("The integral of {u} d{v} is {u} {v} less the integral of {v} d{u}.", u=u.name, v=v.name)
    working.step(line(first, Negate(Integral(Quotient(seen.square, seen.root), x))), "by-parts", rule)
    numerator = Sum((seen.under, opposite(seen.fixed)))
    working.step(
        line(first, Negate(Integral(Quotient(numerator, seen.root), x))),
        "split-numerator",
        say("Write the numerator as what is under the root, and a constant."),
    )
    working.step(
        line(first, Negate(whole), seen.left(number(1))),
        "sum-rule",
        say("Take the two parts by themselves; what is under a root over the root is the root."),
    )
    back = sum_of(in_front(constant, first), seen.left(constant))
    working.balance(
        before_integral(times(number(2), constant), whole),
        back,
        rule="bring-over",
        reason=say("The first integral has come back: bring it to the left side."),
    )
    half = times(constant, number(fraction(1, 2)))
    working.step(
        sum_of(in_front(half, first), seen.left(half)),
        "divide",
        say("Divide by the number in front of the integral."),
    )
    working.step(seen.answer(), "standard-integral", seen.term.reason)
    return working.finish()


_slip = slips_of("root-parts", root_of_square)

# What students write (common practice: from the marking of scripts, not from a published table).
TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="The root of a square and a letter, by parts",
    work=_work,
    slips=(
        _slip(
            "not-halved",
            say(
                "The integral came back: twice the integral stands on the left side, so halve the right one."
            ),
            lambda seen: seen.answer(half=number(1)),
        ),
        _slip(
            "constant-lost",
            say("The constant under the root stands in front of the integral that is left."),
            lambda seen: seen.answer(k=number(1)),
        ),
        sign_of_a_term_lost("root-parts"),
        last_term_lost("root-parts"),
        differentiated_instead("root-parts"),
    ),
)
