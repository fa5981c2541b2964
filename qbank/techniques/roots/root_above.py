"""The root of a quadratic over a linear expression: with the root below the line it comes apart into known integrals.

sqrt(x^2 + x + 1)/x       (x + 1)/sqrt(x^2 + x + 1) + 1/(x sqrt(x^2 + x + 1))
sqrt(2x - x^2)/x^2        -1/sqrt(2x - x^2) + 2/(x sqrt(2x - x^2))
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import before_integral, number, times
from qbank.maths.expression import Expression, Integral, Quotient, Root, Symbol, fraction, product, sum_of
from qbank.maths.factors import Factored, factored, power_tree
from qbank.maths.polynomial import polynomial_tree
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.roots.root_and_line import RootAndLine, root_and_line
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["root_above"]

_IDENTIFIER = "root-above-the-line"

_HALF = fraction(1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """`constant * sqrt(q)/g^n`, n 1 or 2.

    Attributes:
        variable: the variable.
        seen: q, g and the numbers.
    """

    variable: Symbol
    seen: RootAndLine

    def written(self) -> Expression:
        """The same as it is written first, nothing divided."""
        seen = self.seen
        return Quotient(seen.under, product(power_tree(seen.linear, Fraction(seen.power)), Root(seen.under)))

    def apart(self) -> Expression:
        """The same in terms over the root: a polynomial, and one over g and its square."""
        (c, b, a), slope, shift = self.seen.numbers, self.seen.slope, self.seen.shift
        first = self.seen.power == 1
        whole = polynomial_tree((b + a * shift, a * slope) if first else (a,), self.variable)
        left = ((c, 1),) if first else ((b, 1), (c, 2))
        terms = (times(number(size), self.over(n)) for size, n in left if size)
        return sum_of(*(term.tree() for term in (times(factored(whole), self.over(0)), *terms)))

    def over(self, n: int) -> Factored:
        """`1/(g^n sqrt(q))`."""
        powers = ((self.seen.linear, Fraction(-n)), (self.seen.under, -_HALF))
        return Factored(coefficient=fraction(1, 1), powers=tuple(pair for pair in powers if pair[1]))


def root_above(solve: Solver) -> Technique:
    """The technique, given what solves the sum with the root below the line."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> tuple[_Plan, WorkedSolution] | None:
        plan = _plan(integrand, variable)
        solution = None if plan is None else solved_beside(integrand, solve, plan.apart(), variable)
        if plan is None or solution is None:
            return None
        return plan, solution

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, *found)

    def numerator_lost(solution: WorkedSolution) -> Expression | None:
        plan = _plan(solution.integrand, solution.variable)
        wrong = None if plan is None else solve(plan.over(plan.seen.power).tree(), plan.variable)
        return None if plan is None or wrong is None else multiplied(plan.seen.constant, wrong.antiderivative)

    return Technique(
        identifier=_IDENTIFIER,
        title="The root of a quadratic over a linear expression",
        work=work,
        slips=(
            Slip(
                identifier="root-above-numerator-lost",
                sentence=say(
                    "A root times itself is what stands under it; this factor stays above the line."
                ),
                answer=numerator_lost,
            ),
            sign_of_a_term_lost("root-above"),
            last_term_lost("root-above"),
            differentiated_instead("root-above"),
        ),
    )


def _plan(integrand: Expression, variable: Symbol) -> _Plan | None:
    seen = root_and_line(integrand, variable, root=_HALF, most=2)
    return None if seen is None else _Plan(variable=variable, seen=seen)


def _worked(integrand: Expression, plan: _Plan, solution: WorkedSolution) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, plan.variable)
    for tree, rule, said in (
        (plan.written(), "rationalise", say("Multiply above and below by the root.")),
        (
            plan.apart(),
            "divide",
            say("Divide what stands above by the linear expression, and take it apart."),
        ),
    ):
        working.step(before_integral(plan.seen.constant, Integral(tree, plan.variable)), rule, said)
    carry(working, solution.lines, lambda line: multiplied(plan.seen.constant, line))
    return working.finish()
