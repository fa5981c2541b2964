"""A sum or difference with roots below the line: above and below multiplied by the conjugate, and the roots go.

1/(sqrt x + sqrt(x + 1))      sqrt(x + 1) - sqrt x
x/(x - sqrt(x^2 - 1))         x^2 + x sqrt(x^2 - 1)
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import times
from qbank.maths.expression import Expression, Integral, Negate, Sum, Symbol, fraction, product, sum_of
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.tidying import tidy
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, solved_beside
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost
from qbank.techniques.standard.standard_sums import expanded_terms
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["conjugates"]

_IDENTIFIER = "rationalised-denominator"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """An integrand `beside / (first + second)`.

    Attributes:
        variable: the variable.
        below: the sum below the line.
        first: its first term.
        second: its second term.
        left: the difference of their squares, a number or a number of times a power of the variable.
        beside: everything else.
    """

    variable: Symbol
    below: Expression
    first: Expression
    second: Expression
    left: Expression
    beside: Factored

    @property
    def conjugate(self) -> Expression:
        """The difference; the positive term first."""
        other = tidy(Negate(self.second))
        return sum_of(other, self.first) if isinstance(self.first, Negate) else sum_of(self.first, other)

    def integrand(self, above: Expression | None = None, left: Expression | None = None) -> Expression:
        """The integrand with nothing but one power below the line; a slip has something else there or above."""
        under = factored(left or self.left)
        inverse = Factored(coefficient=1 / under.coefficient, powers=tuple((b, -n) for b, n in under.powers))
        whole = times(
            self.beside,
            inverse,
            Factored(coefficient=fraction(1, 1), powers=((above or self.conjugate, fraction(1, 1)),)),
        )
        return sum_of(*expanded_terms(whole.tree(), self.variable))


def conjugates(solve: Solver) -> Technique:
    """The technique, given what solves the integral without a sum below the line."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> tuple[_Plan, WorkedSolution] | None:
        plan = _plan(integrand, variable)
        solution = None if plan is None else solved_beside(integrand, solve, plan.integrand(), variable)
        if plan is None or solution is None:
            return None
        return plan, solution

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, *found)

    def same_sign(solution: WorkedSolution) -> Expression | None:
        plan = _plan(solution.integrand, solution.variable)
        wrong = None if plan is None else solve(plan.integrand(above=plan.below), plan.variable)
        return None if wrong is None else wrong.antiderivative

    def squares_added(solution: WorkedSolution) -> Expression | None:
        plan = _plan(solution.integrand, solution.variable)
        if plan is None:
            return None
        squares = as_polynomial(sum_of(_squared(plan.first), _squared(plan.second)), plan.variable)
        if squares is None or sum(map(bool, squares)) != 1:
            return None
        wrong = solve(plan.integrand(left=polynomial_tree(squares, plan.variable)), plan.variable)
        return None if wrong is None else wrong.antiderivative

    return Technique(
        identifier=_IDENTIFIER,
        title="Roots in the denominator: multiply by the conjugate",
        work=work,
        slips=(
            Slip(
                identifier="conjugate-same-sign",
                sentence=say(
                    "The conjugate has the other sign between its two terms, and it stands above the line too."
                ),
                answer=same_sign,
            ),
            Slip(
                identifier="conjugate-squares-added",
                sentence=say("A sum times a difference is the difference of the squares, not their sum."),
                answer=squares_added,
            ),
            sign_of_a_term_lost("conjugate"),
            last_term_lost("conjugate"),
            differentiated_instead("conjugate"),
        ),
    )


def _plan(integrand: Expression, variable: Symbol) -> _Plan | None:
    seen = factored(integrand)
    sums = [
        base for base, n in seen.powers if n == -1 and isinstance(base, Sum) and _has_root(base, variable)
    ]
    if len(sums) != 1 or len(sums[0].terms) != 2:
        return None
    below = sums[0]
    first, second = below.terms
    left = _difference(first, second, variable)
    if left is None:
        return None
    if max(left) <= 0:
        # so that what is left below the line is positive
        first, second, left = second, first, tuple(-c for c in left)
    return _Plan(
        variable=variable,
        below=below,
        first=first,
        second=second,
        left=polynomial_tree(left, variable),
        beside=seen.without(below),
    )


def _difference(first: Expression, second: Expression, variable: Symbol) -> tuple[Fraction, ...] | None:
    """The difference of the squares, where that is a number of times a power of the variable."""
    left = as_polynomial(sum_of(_squared(first), tidy(Negate(_squared(second)))), variable)
    return left if left is not None and sum(map(bool, left)) == 1 else None


def _has_root(tree: Expression, variable: Symbol) -> bool:
    terms = tree.terms if isinstance(tree, Sum) else (tree,)
    return any(
        n.denominator == 2 and variable in base.symbols()
        for term in terms
        for base, n in factored(term).powers
    )


def _squared(tree: Expression) -> Expression:
    seen = factored(tree)
    powers = tuple((base, 2 * n) for base, n in seen.powers)
    return Factored(coefficient=seen.coefficient**2, powers=powers).tree()


def _worked(integrand: Expression, plan: _Plan, solution: WorkedSolution) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, plan.variable)
    said = say(
        "A sum times the difference of the same two terms is the difference of their squares: the roots go."
    )
    working.aside(product(plan.below, plan.conjugate), plan.left, "difference-of-squares", said)
    said = say("Multiply above and below by it.")
    working.step(Integral(plan.integrand(), plan.variable), "rationalise", said)
    carry(working, solution.lines, lambda line: line)
    return working.finish()
