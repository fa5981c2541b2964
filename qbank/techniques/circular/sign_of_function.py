"""The sign of a circular or hyperbolic function taken out of a modulus, or of the root of an even power.

int sqrt(a cos^2 x) dx        sqrt a (|cos x|/cos x) int cos x dx = sqrt a |cos x| tan x
int sqrt(1 + cos 2x) dx       the same with 1 + cos 2x = 2 cos^2 x
int 1/(sec^2 x)^(5/2) dx      (|cos x|/cos x) int cos^5 x dx

Between the places where the function changes its sign that is a constant; beyond one the constant of integration may be another.
What is left is for the powers of these functions.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.constant_factor import ONE, over, times
from qbank.maths.expression import Expression, Integral, Symbol, product
from qbank.maths.factors import factored, power_tree
from qbank.maths.notation import plain
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, solved_beside
from qbank.techniques.circular.sign_of_function_plan import FunctionSign, function_sign
from qbank.techniques.slips import differentiated_instead, sign_of_a_term_lost, slips_of
from qbank.techniques.standard import standard_forms
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["sign_of_function"]

_IDENTIFIER = "function-sign"
_SLOPE = next(
    slip for slip in standard_forms.TECHNIQUE.slips if slip.identifier.endswith("inner-coefficient-forgotten")
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """An integrand, its plan, and the worked solution of the core."""

    integrand: Expression
    plan: FunctionSign
    solution: WorkedSolution


def sign_of_function(solve: Solver) -> Technique:
    """The technique, given what solves the integral without roots and moduli."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        plan = function_sign(integrand, variable)
        solution = None if plan is None else solved_beside(integrand, solve, plan.core, variable)
        if plan is None or solution is None:
            return None
        return _Found(integrand=integrand, plan=plan, solution=solution)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    slip = slips_of(_IDENTIFIER, find)

    def modulus_forgotten(found: _Found) -> Expression | None:
        plan = found.plan
        if not plan.inside:
            return None
        return plan.before(found.solution.antiderivative, plan.constant)

    def root_not_integrated(found: _Found) -> Expression | None:
        """The sign kept, the core not integrated."""
        return found.plan.before(found.plan.core)

    def two_lost(found: _Found) -> Expression | None:
        """The double-angle identity without its 2."""
        plan = found.plan
        if plan.two == ONE:
            return None
        if plan.closed is not None:
            return times(over(plan.two), factored(plan.closed)).tree()
        return plan.before(found.solution.antiderivative, times(plan.front, over(plan.two)))

    def root_as_a_power(found: _Found) -> Expression | None:
        plan = found.plan
        if len(plan.identities) != 1:
            return None
        base = plan.identities[0].whole
        whole = factored(found.integrand)
        (outside, n), *beside = whole.powers
        return (
            None
            if beside or outside != base
            else scaled(whole.coefficient / (n + 1), power_tree(base, n + 1))
        )

    def slope_forgotten(found: _Found) -> Expression | None:
        plan = found.plan
        if plan.closed is not None:
            return times(plan.slope, factored(plan.closed)).tree()
        if found.solution.technique != standard_forms.TECHNIQUE.identifier:
            return None
        changed = _SLOPE.answer(found.solution)
        return None if changed is None else plan.before(changed)

    sign_of_a_term = sign_of_a_term_lost(_IDENTIFIER)

    def term_turned(found: _Found) -> Expression | None:
        changed = sign_of_a_term.answer(found.solution)
        return None if changed is None else found.plan.before(changed)

    return Technique(
        identifier=_IDENTIFIER,
        title="The sign of a function taken out of a modulus or root",
        work=work,
        slips=(
            slip(
                "modulus-forgotten",
                say(
                    "The root of a square is a modulus: where the function is negative its sign is the other one."
                ),
                modulus_forgotten,
            ),
            slip(
                "not-integrated",
                say("Taking a square out of a root only rewrites it: it must still be integrated."),
                root_not_integrated,
            ),
            slip(
                "two-of-half-angle-lost",
                say("The identity for half the angle has a 2 in front; its root stays."),
                two_lost,
            ),
            slip("inner-coefficient-forgotten", _SLOPE.sentence, slope_forgotten),
            slip(
                "root-integrated-as-a-power",
                say(
                    "The power rule needs the derivative of the function beside it; a power alone cannot simply be raised."
                ),
                root_as_a_power,
            ),
            slip("sign-of-a-term-lost", sign_of_a_term.sentence, term_turned),
            differentiated_instead(_IDENTIFIER),
        ),
    )


def _worked(integrand: Expression, variable: Symbol, found: _Found) -> WorkedSolution:
    plan = found.plan
    working = Working(_IDENTIFIER, integrand, variable)
    for identity in plan.identities:
        equation = identity.equation
        working.aside(equation.left, equation.right, identity.rule, identity.reason)
    written = plan.before(Integral(plan.taken, variable), plan.constant)
    if written != Integral(integrand, variable):
        said = (
            say("Take the even power out of the root: the root of a square is a modulus.")
            if plan.inside
            else say("Take the power out of the root; what comes out is not negative.")
        )
        working.step(written, "rewrite", said)
    if plan.inside:
        said = say(
            "The modulus of {inside} over {inside} is 1 or -1 and changes only where the sign does: between such places it is a constant "
            "and stands in front; beyond one the constant of integration may be another.",
            inside=plain(product(*plan.inside)),
        )
        working.step(plan.before(Integral(plan.core, variable)), "constant-factor", said)
    if plan.front == ONE:
        carry(working, found.solution.lines, lambda line: line)
    else:
        carry(working, found.solution.lines, plan.before)
    if plan.closed is not None:
        said = say("Write it in the whole angle again: the modulus goes into the root, and no bars are left.")
        working.step(plan.closed, "double-angle", said)
    return working.finish()
