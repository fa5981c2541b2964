"""The root of a quotient of two linear expressions: the root above goes below the line, beside the other.

sqrt((1 + x)/(1 - x))      (1 + x)/sqrt(1 - x^2)        1 + x is not negative where the root is real
sqrt((x - 1)/(x + 1))      |x - 1|/sqrt(x^2 - 1)        here it may be: the modulus stays
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import number, times
from qbank.maths.expression import Apply, Expression, Integral, Quotient, Symbol, fraction
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_linear, as_polynomial, polynomial_tree
from qbank.maths.tidying import tidy
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, solved_beside
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["root_of_fraction"]

_IDENTIFIER = "root-of-fraction"

_HALF = fraction(1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """An integrand `beside sqrt(above/below)`, above and below linear.

    Attributes:
        variable: the variable.
        above: what stands above the line under the root.
        below: what stands below it.
        product: both multiplied.
        sign: of both, where the root is real; 0 where they may have either.
        beside: everything else.
    """

    variable: Symbol
    above: Expression
    below: Expression
    product: Expression
    sign: int
    beside: Factored

    def integrand(self, *, upside_down: bool = False, multiplied: bool = False) -> Expression:
        """The integrand with one root; a slip has the wrong one of the two above it, or none."""
        over = self.below if upside_down else self.above
        shown = Apply("abs", over) if not self.sign else over
        parts = [self.beside, number(self.sign or 1), _one(self.product, -_HALF)]
        return times(*parts, *(() if multiplied else (_one(shown, fraction(1, 1)),))).tree()


def root_of_fraction(solve: Solver) -> Technique:
    """The technique, given what solves the integral with the root of a quadratic."""

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

    def slip(name: str, sentence: str, wrong: Callable[[_Plan], Expression]) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            plan = _plan(solution.integrand, solution.variable)
            other = None if plan is None else solve(wrong(plan), plan.variable)
            return None if other is None else other.antiderivative

        return Slip(identifier=f"fraction-root-{name}", sentence=sentence, answer=answer)

    return Technique(
        identifier=_IDENTIFIER,
        title="The root of a fraction: multiply by a root above and below",
        work=work,
        slips=(
            slip(
                "upside-down",
                say("Multiply above and below by the root of what stands above the line."),
                lambda plan: plan.integrand(upside_down=True),
            ),
            slip(
                "numerator-lost",
                say("A root times itself is what stands under it; this factor stays above the line."),
                lambda plan: plan.integrand(multiplied=True),
            ),
            sign_of_a_term_lost("fraction-root"),
            last_term_lost("fraction-root"),
            differentiated_instead("fraction-root"),
        ),
    )


def _one(base: Expression, n: Fraction) -> Factored:
    return Factored(coefficient=fraction(1, 1), powers=((base, n),))


def _plan(integrand: Expression, variable: Symbol) -> _Plan | None:
    seen = factored(integrand)
    roots = [(base, n) for base, n in seen.powers if isinstance(base, Quotient) and abs(n) == _HALF]
    if len(roots) != 1 or variable not in roots[0][0].symbols():
        return None
    (base, n), quotient = roots[0], roots[0][0]
    assert isinstance(quotient, Quotient)  # it was chosen so
    above, below = (quotient.numerator, quotient.denominator)[:: 1 if n > 0 else -1]
    one, other = as_linear(above, variable), as_linear(below, variable)
    whole = as_polynomial(tidy(above * below), variable)
    if one is None or other is None or whole is None or not (one[0] and other[0]):
        return None
    if one[0] * other[1] == one[1] * other[0]:
        return None  # the fraction is a number
    sign = 0
    if one[0] * other[0] < 0:
        middle = (-one[1] / one[0] - other[1] / other[0]) / 2
        value = one[0] * middle + one[1]
        if not value:
            return None
        sign = 1 if value > 0 else -1
    return _Plan(
        variable=variable,
        above=above,
        below=below,
        product=polynomial_tree(whole, variable),
        sign=sign,
        beside=seen.without(base),
    )


def _worked(integrand: Expression, plan: _Plan, solution: WorkedSolution) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, plan.variable)
    if plan.sign > 0:
        said = say(
            "Multiply above and below by the root above; where the fraction is not negative, neither part is."
        )
    elif plan.sign < 0:
        said = say(
            "Multiply above and below by the root above; where the root is real, both parts are negative."
        )
    else:
        said = say("Multiply above and below by the root above: a root of a square is a modulus.")
    working.step(Integral(plan.integrand(), plan.variable), "rationalise", said)
    carry(working, solution.lines, lambda line: line)
    return working.finish()
