"""The sign of a linear expression taken out of an integral, where its modulus stands or the root of its even power.

int x/(|x| sqrt(x^2 - 1)) dx     (|x|/x) int 1/sqrt(x^2 - 1) dx
int sqrt(x^6 - x^8) dx           int |x|^3 sqrt(1 - x^2) dx, then (|x|/x) int x^3 sqrt(1 - x^2) dx

What stands behind the sign is for the other techniques. Nothing is said of positive values alone: the lines hold on both
sides, and where both belong to one domain the antiderivative has no jump between them.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.expression import Apply, Expression, Integral, Power, Root, Symbol, as_fraction
from qbank.maths.factors import factored
from qbank.maths.notation import plain
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, solved_beside
from qbank.techniques.roots.sign_plan import SignPlan, sign_plan
from qbank.techniques.slips import differentiated_instead, sign_of_a_term_lost, slips_of
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["variable_sign"]

_IDENTIFIER = "variable-sign"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A plan, the worked solution of the core, and its antiderivative with the constant that joins the sides."""

    plan: SignPlan
    solution: WorkedSolution
    joined: Expression


def variable_sign(solve: Solver) -> Technique:
    """The technique, given what solves the integral without modulus signs."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        if not _may_have_sign(integrand):
            return None
        plan = sign_plan(integrand, variable)
        if plan is None or (plan.signed and len(integrand.symbols()) > 1 and not _is_apart(integrand, plan)):
            return None
        solution = solved_beside(integrand, solve, plan.core, variable)
        joined = None if solution is None else plan.joined(solution.antiderivative)
        if solution is None or joined is None:
            return None
        return _Found(plan=plan, solution=solution, joined=joined)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    slip = slips_of("sign", find)

    def power_not_halved(found: _Found) -> Expression | None:
        solution = None if found.plan.whole is None else solve(found.plan.whole, found.plan.variable)
        return None if solution is None else found.plan.with_sign(solution.antiderivative)

    return Technique(
        identifier=_IDENTIFIER,
        title="The sign of the variable taken out of a modulus or root",
        work=work,
        slips=(
            slip(
                "modulus-forgotten",
                say("The root of a square is a modulus: for negative values its sign is the other one."),
                lambda found: found.solution.antiderivative if found.plan.signed else None,
            ),
            slip(
                "power-not-halved",
                say("A power that is taken out of a square root is halved."),
                power_not_halved,
            ),
            sign_of_a_term_lost("sign"),
            differentiated_instead("sign"),
        ),
    )


def _may_have_sign(integrand: Expression) -> bool:
    """Whether there is a modulus or a square root at all."""
    for node in integrand.walk():
        match node:
            case Apply("abs") | Root(_, 2):
                return True
            case Power(_, exponent):
                value = as_fraction(exponent)
                if value is not None and value.denominator == 2:
                    return True
            case _:
                pass
    return False


def _is_apart(integrand: Expression, plan: SignPlan) -> bool:
    """Whether the integrand has no value where the sign changes, by its looks; asked where letters have no values."""
    places = (plan.inside, Apply("abs", plan.inside))
    return any(n < 0 and base in places for base, n in factored(integrand).powers)


def _worked(integrand: Expression, variable: Symbol, found: _Found) -> WorkedSolution:
    plan = found.plan
    working = Working(_IDENTIFIER, integrand, variable)
    inside = plain(plan.inside)
    if plan.taken is not None:
        said = (
            say("Take the even power out of the root: the root of a square is a modulus.")
            if any(node == Apply("abs", plan.inside) for node in plan.taken.walk())
            else say("Take the power out of the root; what comes out is not negative.")
        )
        working.step(Integral(plan.taken, variable), "rewrite", said)
    if plan.signed:
        said = say(
            "The modulus of {inside} over {inside} is 1 where {inside} is positive and -1 where it is negative: a constant on each "
            "piece, so it stands in front.",
            inside=inside,
        )
        working.step(plan.with_sign(Integral(plan.core, variable)), "constant-factor", said)
    carry(working, found.solution.lines, plan.with_sign)
    if found.joined != found.solution.antiderivative:
        said = say(
            "Both sides must meet where {inside} is 0: choose the constant with which the value there is 0.",
            inside=inside,
        )
        working.step(plan.with_sign(found.joined), "constant", said)
    return working.finish()
