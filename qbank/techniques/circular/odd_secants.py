"""Odd powers of secant and cosecant, alone or with an even power of tangent or cotangent.

sec^3 x          by parts, and the integral comes back
tan^2 x sec x    sec^3 x - sec x
sin^2 x/cos x    sec x - cos x
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from qbank.maths.constant_factor import before_integral, in_front, number, over, times
from qbank.maths.derivative import derivative
from qbank.maths.expression import (
    Expression,
    Integer,
    Integral,
    Power,
    Symbol,
    difference,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import factored, power_tree
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.circular.circular_powers import power_product, spare_pair
from qbank.techniques.circular.secant_ladder import Ladder, ladder
from qbank.techniques.slips import differentiated_instead, sign_of_a_term_lost
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "odd-secants"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = ladder(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    _written_in_secants(working, plan)
    powers, done, first = plan.powers, list[Expression](), True
    while powers and max(powers) > 1:
        _by_parts(working, plan, max(powers), integrand, first=first)
        term, powers = plan.brought_down(powers)
        done.append(in_front(plan.front, term))
        line = sum_of(*done, *plan.pending(powers))
        if powers:
            working.step(line, "by-parts", say("Put this in."))
        first = False
    reason = (
        say("The integral that is left is a standard one.")
        if len(powers) < 2
        else say("Both integrals are standard.")
    )
    working.step(plan.answer(), "standard-integral", reason if powers else say("Put this in."))
    return working.finish()


def _written_in_secants(working: Working, plan: Ladder) -> None:
    """Write the lines to a sum of odd powers of s."""
    seen, variable = plan.seen, plan.variable
    if not seen.direct or not seen.written.tidy:
        powers = ((seen.pair.tangent, seen.m), (seen.pair.secant, seen.n))
        tree = power_product(plan.angle.tree, powers)
        reason = say("Collect the powers.") if seen.direct else seen.pair.words.rewritten
        working.step(before_integral(plan.front, Integral(tree, variable)), "rewrite", reason)
    elif not seen.m and plan.front != number(1):
        tree = plan.secant(int(seen.n))
        working.step(
            before_integral(plan.front, Integral(tree, variable)),
            "constant-factor",
            say("Take the constant out."),
        )
    if not seen.m:
        return
    identity = difference(Power(plan.secant(1), Integer(2)), Integer(1))
    bracket = power_tree(identity, seen.m / 2)
    tree = factored(product(bracket, power_tree(plan.secant(1), seen.n))).tree()
    working.step(
        before_integral(plan.front, Integral(tree, variable)),
        "pythagorean-identity",
        seen.pair.words.identity,
    )
    expanded = sum_of(*(scaled(c, plan.secant(power)) for power, c in plan.powers.items()))
    working.step(before_integral(plan.front, Integral(expanded, variable)), "expand", say("Multiply out."))
    working.step(sum_of(*plan.pending(plan.powers)), "sum-rule", say("Take each term by itself."))


def _by_parts(working: Working, plan: Ladder, power: int, integrand: Expression, *, first: bool) -> None:
    """Write how the integral of one power follows from that of the next lower one."""
    variable = plan.variable
    whole, lower = (Integral(plan.secant(k), variable) for k in (power, power - 2))
    term = plan.product_term(power, fraction(1, 1))
    words = plan.seen.pair.words
    if first:
        u, v = spare_pair(sum_of(integrand, variable))
        top, square = plan.secant(power - 2), plan.secant(2)
        working.let(u, top, derivative(top, variable), words.by_parts)
        working.let(
            v,
            in_front(times(number(plan.seen.pair.sign), over(plan.rate())), plan.tangent),
            square,
            say("The rest is integrated."),
        )
        mixed = Integral(product(top, power_tree(plan.tangent, fraction(2, 1))), variable)
        parts = sum_of(term, scaled(2 - power, mixed))
        said = say("The integral of {u} d{v} is {u} {v} less the integral of {v} d{u}.", u=u.name, v=v.name)
        working.balance(whole, parts, rule="by-parts", reason=said)
        split = sum_of(term, scaled(2 - power, whole), scaled(power - 2, lower))
        working.balance(whole, split, rule="pythagorean-identity", reason=words.identity)
    said = (
        say("The first integral has come back: bring it to the left side.")
        if first
        else say("In the same way for the lower power.")
    )
    working.balance(
        scaled(power - 1, whole), sum_of(term, scaled(power - 2, lower)), rule="bring-over", reason=said
    )


# What students write (common practice: from the marking of scripts, not from a published table).


def _slip(change: Callable[[Ladder], Ladder | None]) -> Callable[[WorkedSolution], Expression | None]:
    def answer(solution: WorkedSolution) -> Expression | None:
        right = ladder(solution.integrand, solution.variable)
        wrong = change(right) if right is not None else None
        if right is None or wrong is None or wrong == right:
            return None
        found = wrong.answer()
        same = found == right.answer() or solution.variable not in found.symbols()
        return None if same else found

    return answer


def _when_brought_down(plan: Ladder, changed: Ladder) -> Ladder | None:
    return changed if max(plan.powers) > 1 else None


def _raised(solution: WorkedSolution) -> Expression | None:
    """`sec^3 x` taken to `sec^4 x / 4`."""
    plan = ladder(solution.integrand, solution.variable)
    if plan is None or plan.seen.m:
        return None
    n = int(plan.seen.n)
    return in_front(times(plan.front, number(Fraction(1, n + 1))), plan.secant(n + 1))


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Odd powers of secant and cosecant",
    work=_work,
    slips=(
        Slip(
            identifier="odd-secant-not-brought-over",
            sentence=say("The integral has come back: bring it to the other side and divide."),
            answer=_slip(lambda plan: _when_brought_down(plan, replace(plan, divided=False))),
        ),
        Slip(
            identifier="odd-secant-identity-with-wrong-sign",
            sentence=say(
                "Tangent squared is secant squared minus one: check the sign when the identity is put in."
            ),
            answer=_slip(lambda plan: _when_brought_down(plan, replace(plan, one=1))),
        ),
        Slip(
            identifier="odd-secant-raised-like-a-variable",
            sentence=say("The power rule needs the derivative of the function beside it; use parts."),
            answer=_raised,
        ),
        Slip(
            identifier="odd-secant-last-integral-lost",
            sentence=say("The integral of the single secant is still to be written down."),
            answer=_slip(lambda plan: _when_brought_down(plan, replace(plan, rest="lost"))),
        ),
        Slip(
            identifier="odd-secant-inner-coefficient-forgotten",
            sentence=say(
                "The number inside the angle comes out when you differentiate, so you must divide by it."
            ),
            answer=_slip(lambda plan: replace(plan, slope="forgotten")),
        ),
        Slip(
            identifier="odd-secant-inner-coefficient-multiplied",
            sentence=say(
                "When integrating, divide by the number inside the angle; multiplying belongs to differentiating."
            ),
            answer=_slip(lambda plan: replace(plan, slope="multiplied")),
        ),
        sign_of_a_term_lost("odd-secant"),
        differentiated_instead("odd-secant"),
    ),
)
