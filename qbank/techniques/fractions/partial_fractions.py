"""Partial fractions: a polynomial over a product of linear factors, their powers, and quadratics without rational roots.

integrand -> whole part divided off -> denominator factorised -> simple fractions with letters -> the letters found
linear brackets: logarithms and powers at once      quadratics: one by one, as in `quadratic_denominator`
"""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.constant_factor import number
from qbank.maths.expression import Expression, Integral, Quotient, Symbol, fraction, sum_of
from qbank.maths.tidying import scaled
from qbank.messages import say, together
from qbank.techniques.carrying import carry, multiplied
from qbank.techniques.fractions.fraction_letters import letter_lines
from qbank.techniques.fractions.partial_fractions_plan import PartialPlan, partial_plan, quadratic_part
from qbank.techniques.fractions.partial_fractions_slips import SLIPS
from qbank.techniques.quadratics.division_lines import division_lines
from qbank.techniques.quadratics.over_quadratic import Board, over_quadratic
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "partial-fractions"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    seen = over_quadratic(integrand, variable, fraction(1, 1))
    plan = partial_plan(integrand, variable)
    if seen is None or plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    board = Board(working, variable, Integral(integrand, variable))
    if plan.start != seen:
        board.line("cancel", say("Cancel the common factor."), plan.start.integral)
    if plan.whole:
        division_lines(board, plan.start, plan.whole, plan.left)
    below = plan.below()
    if plan.left.under_tree != below:
        factors = scaled(plan.number, below)
        board.aside(plan.left.under_tree, factors, "factorise", say("Factorise the denominator."))
        over = Quotient(plan.left.over_tree, below)
        board.line("factorise", say("Put this in."), board.integral(plan.left.front / plan.number, over))
    letter_lines(working, plan.sought())
    board.line("partial-fractions", say("Put the numbers in."), board.integral(plan.front, plan.fractions()))
    _integrate(working, board, plan)
    return working.finish()


def _integrate(working: Working, board: Board, plan: PartialPlan) -> None:
    """Write the integrals of the simple fractions."""
    pending = [board.integral(size, core) for size, core in plan.quadratic_parts()]
    done = (*plan.whole_terms(), *plan.linear_terms())
    board.finished(*plan.linear_terms())
    board.line("logarithm", _linear_reason(plan), *pending)
    for place, (size, core) in enumerate(plan.quadratic_parts()):
        solution = quadratic_part(core, plan.letter)
        assert solution is not None  # the plan has seen to that

        def around(
            line: Expression, place: int = place, size: Fraction = size, done: tuple[Expression, ...] = done
        ) -> Expression:
            return sum_of(*done, multiplied(number(size), line), *pending[place + 1 :])

        carry(working, solution.lines, around)
        done = (*done, multiplied(number(size), solution.antiderivative))
    if plan.answer() != sum_of(*done):
        working.step(plan.answer(), "collect", say("Collect like terms."))


def _linear_reason(plan: PartialPlan) -> str:
    linear = [one for one in plan.simple if len(one.top) == 1 and one.top[0]]
    said = []
    if any(one.below.exponent == 1 for one in linear):
        said.append(say("The reciprocal of a linear bracket gives a logarithm."))
    if any(one.below.exponent > 1 for one in linear):
        said.append(say("For a power of a bracket raise the exponent by one and divide by it."))
    if not said:
        said.append(say("Take the fractions one by one."))
    if any(one.below.factor[1] != 1 for one in linear):
        said.append(say("Divide by the coefficient of the variable."))
    return together(*said)


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Partial fractions",
    work=_work,
    slips=SLIPS,
)
