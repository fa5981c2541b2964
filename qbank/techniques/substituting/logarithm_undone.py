"""Exponentials of logarithms inside an integrand: each is a power, and what is left is for another technique.

e^(3 ln x)/(x^4 + 1)                          x^3/(x^4 + 1)
(e^(6 ln x) - e^(5 ln x))/(e^(4 ln x) - 1)    (x^6 - x^5)/(x^4 - 1)
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache

from qbank.maths.expression import Apply, Constant, Expression, Integral, Power, Symbol
from qbank.maths.factors import power_tree
from qbank.maths.tidying import scaled, split_coefficient, tidy
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, solved_beside
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["logarithm_undone"]

_IDENTIFIER = "logarithm-undone"


def logarithm_undone(solve: Solver) -> Technique:
    """The technique, given what solves the integral with powers."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> tuple[Expression, WorkedSolution] | None:
        written = _as_powers(integrand)
        if written == tidy(integrand):
            return None
        solution = solved_beside(integrand, solve, written, variable)
        return None if solution is None else (written, solution)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        if found is None:
            return None
        written, solution = found
        working = Working(_IDENTIFIER, integrand, variable)
        said = say(
            "A number before a logarithm is a power inside it, and the exponential undoes the logarithm."
        )
        working.step(Integral(written, variable), "logarithm-laws", said)
        carry(working, solution.lines, lambda line: line)
        return working.finish()

    def multiplied(solution: WorkedSolution) -> Expression | None:
        """`e^(3 ln x) = 3x`."""
        wrong = tidy(_written(solution.integrand, scaled))
        found = None if wrong == _as_powers(solution.integrand) else solve(wrong, solution.variable)
        return None if found is None else found.antiderivative

    return Technique(
        identifier=_IDENTIFIER,
        title="Exponentials of logarithms: powers first",
        work=work,
        slips=(
            Slip(
                identifier="undone-number-as-factor",
                sentence=say("The number before the logarithm becomes a power, not a factor."),
                answer=multiplied,
            ),
            sign_of_a_term_lost("undone"),
            last_term_lost("undone"),
            differentiated_instead("undone"),
        ),
    )


def _as_powers(tree: Expression) -> Expression:
    return tidy(_written(tree, lambda n, base: power_tree(base, n)))


def _written(tree: Expression, power: Callable[[Fraction, Expression], Expression]) -> Expression:
    """The tree with something else for each `e^(n ln g)`."""
    match tree:
        case Power(Constant("e"), exponent) | Apply("exp", exponent):
            n, body = split_coefficient(exponent)
            if isinstance(body, Apply) and body.function == "ln":
                return power(n, body.argument)
    return tree.rebuild(lambda child: _written(child, power))
