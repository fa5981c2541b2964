"""The substitution x = a sinh t or x = a cosh t for the root of x^2 + a^2 or x^2 - a^2, a and the root of the square's number rational.

    sqrt(x^2 + 4)       x = 2 sinh t, sqrt(x^2 + 4) = 2 cosh t      4 int cosh^2 t dt = 2t + 2 sinh t cosh t
    1/sqrt(9x^2 - 1)    3x = cosh t, for x > 1/3                    1/3 int 1 dt

Another way beside the tangent and the secant, for classes that know hyperbolic functions. With x = a cosh t the lines are for
x > a; the answer, with a logarithm for arcosh, holds on both sides. NIST DLMF 4.37(iv) gives the logarithms.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import before_integral, number
from qbank.maths.domain import Domain
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Differential,
    Expression,
    Integral,
    Root,
    Symbol,
    product,
)
from qbank.maths.factors import power_tree
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.hyperbolic.hyperbolic_substitution_plan import (
    HyperbolicPlan,
    back,
    hyperbolic_plan,
    logarithm_of,
    multiples_of,
)
from qbank.techniques.slips import differentiated_instead, slips_of
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["hyperbolic_substitution"]

_IDENTIFIER = "hyperbolic-substitution"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A plan, and the working of the integral in the letter."""

    plan: HyperbolicPlan
    solution: WorkedSolution


def hyperbolic_substitution(solve: Solver) -> Technique:
    """The technique, given what solves the integral in t."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        plan = hyperbolic_plan(integrand, variable)
        solution = None if plan is None else solved_beside(integrand, solve, plan.core, plan.letter)
        if plan is None or solution is None:
            return None
        return _Found(plan=plan, solution=solution) if back(plan, solution.antiderivative) else None

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    slip = slips_of(_IDENTIFIER, find)

    def differential_kept(found: _Found) -> Expression | None:
        plan = replace(found.plan, rate=0)
        solution = solve(plan.core, plan.letter)
        return None if solution is None else back(plan, solution.antiderivative)

    def number_lost(found: _Found) -> Expression | None:
        size = number(found.plan.size ** (-found.plan.power))
        answer = back(found.plan, found.solution.antiderivative)
        return None if answer is None else multiplied(size, answer)

    return Technique(
        identifier=_IDENTIFIER,
        title="Hyperbolic substitution",
        work=work,
        slips=(
            slip(
                "differential-not-replaced",
                say("The differential must be replaced as well: dx is a hyperbolic function times dt."),
                differential_kept,
            ),
            slip(
                "double-argument-halved",
                say("The sinh of twice t is two times sinh times cosh: do not lose the two."),
                lambda found: back(found.plan, found.solution.antiderivative, double=1),
            ),
            slip(
                "number-before-the-root-lost",
                say(
                    "Under the root the number is squared: it comes out of the root and stands before the integral."
                ),
                number_lost,
            ),
            differentiated_instead(_IDENTIFIER),
        ),
    )


def _worked(integrand: Expression, variable: Symbol, found: _Found) -> WorkedSolution | None:
    plan, t = found.plan, found.plan.letter
    first, second = plan.functions
    x_is, root_is = scaled(plan.scale, first), scaled(plan.size, second)
    rate = scaled(plan.scale, second)
    working = Working(_IDENTIFIER, integrand, variable)
    working.let_be(
        t,
        plan.meaning,
        Equation(variable, x_is),
        Equation(Root(plan.inside), root_is),
        Equation(Differential(variable), product(rate, Differential(t))),
        reason=say("A sum of squares under the root: with sinh it becomes the square of cosh.")
        if plan.plus
        else say(
            "A difference of squares under the root: with cosh it becomes the square of sinh; the lines are for the positive side."
        ),
        domain=None if plan.plus else Domain(lower=plan.scale),
    )
    beside = (power_tree(x_is, Fraction(plan.beside)),) if plan.beside else ()
    raw = product(*beside, power_tree(root_is, Fraction(plan.power)), rate)
    working.step(
        before_integral(plan.constant, Integral(raw, t)),
        "substitution",
        say("Write everything in {letter}.", letter=t.name),
    )
    line = before_integral(plan.front, Integral(plan.core, t))
    if not working.stands(line):
        working.step(line, "simplify", say("Simplify, and take the numbers outside."))
    carry(working, found.solution.lines, lambda line: multiplied(plan.front, line))
    multiples = multiples_of(t)
    used = [node for node in found.solution.antiderivative.walk() if node in multiples]
    for node in dict.fromkeys(used):
        said = say("Write multiples of {letter} with {letter} itself.", letter=t.name)
        working.aside(node, multiples[node], "double-argument", said)
    answer = back(plan, found.solution.antiderivative)
    assert answer is not None  # it was seen to be
    working.step(
        answer,
        "substitute-back",
        say("Put the variable back and tidy up.")
        if plan.plus or Apply("ln", Apply("abs", logarithm_of(plan))) not in set(answer.walk())
        else say(
            "Put the variable back: arcosh is the logarithm of the sum of the variable and the root, up to a constant."
        ),
    )
    return working.finish()
