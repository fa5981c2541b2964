"""Powers of two linear expressions whose exponents add up to a whole number: their quotient is the new letter.

sqrt(1 + x)/(1 - x)^(5/2)              u = (1 + x)/(1 - x)     1/2 int sqrt(u) du
1/((1 - x)^(5/2) (1 + x)^(5/2))        the same                int (u + 1)^3/(16 u^(5/2)) du

A^p B^q is u^p B^(p + q), and du is a number over B^2 times dx; what is left of B is a number over a linear expression in u.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.constant_factor import before_integral, in_front, number, times
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Differential,
    Expression,
    Integral,
    Symbol,
    fraction,
    product,
)
from qbank.maths.factors import Factored, power_tree
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.roots.quotient_of_lines import QuotientOfLines, quotient_of_lines
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost, slips_of
from qbank.techniques.substituting.substitution_search import put_back
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["quotient_letter"]

_IDENTIFIER = "quotient-as-letter"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A substitution, and the working of what is left."""

    seen: QuotientOfLines
    solution: WorkedSolution

    def answer(self, front: Factored | None = None) -> Expression:
        """The antiderivative; with another constant in front, a slip."""
        seen = self.seen
        return multiplied(
            seen.front if front is None else front,
            put_back(self.solution.antiderivative, seen.letter, seen.quotient),
        )


def quotient_letter(solve: Solver) -> Technique:
    """The technique, given what solves the integral in the quotient."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        seen = quotient_of_lines(integrand, variable)
        solution = None if seen is None else solved_beside(integrand, solve, seen.expanded, seen.letter)
        return None if seen is None or solution is None else _Found(seen=seen, solution=solution)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, found)

    slip = slips_of("quotient-letter", find)

    return Technique(
        identifier=_IDENTIFIER,
        title="Powers of two linear expressions: u is their quotient",
        work=work,
        slips=(
            slip(
                "number-of-du-forgotten",
                say("The differential brings a number or constant: divide by it in front of the integral."),
                lambda found: found.answer(times(found.seen.front, number(found.seen.size))),
            ),
            slip(
                "number-of-du-multiplied",
                say("Divide by the constant that the differential brings; it belongs to the other side."),
                lambda found: found.answer(times(found.seen.front, number(found.seen.size**2))),
            ),
            sign_of_a_term_lost("quotient-letter"),
            last_term_lost("quotient-letter"),
            differentiated_instead("quotient-letter"),
        ),
    )


def _worked(integrand: Expression, found: _Found) -> WorkedSolution:
    seen = found.seen
    working = Working(_IDENTIFIER, integrand, seen.variable)
    rate = in_front(number(seen.size), power_tree(seen.below, fraction(-2, 1)))
    equations = (
        Equation(seen.below, seen.solved),
        Equation(Differential(seen.letter), product(rate, Differential(seen.variable))),
    )
    working.let_be(
        seen.letter,
        seen.quotient,
        *equations,
        reason=say("The exponents add up to a whole number: let the quotient be the new letter."),
    )
    said = say("Write everything in {letter}.", letter=seen.letter.name)
    working.step(before_integral(seen.front, Integral(seen.outer, seen.letter)), "substitution", said)
    if seen.expanded != seen.outer:
        line = before_integral(seen.front, Integral(seen.expanded, seen.letter))
        working.step(line, "expand", say("Multiply out."))
    carry(working, found.solution.lines, lambda line: multiplied(seen.front, line))
    said = say("Put the quotient back for {letter}.", letter=seen.letter.name)
    working.step(found.answer(), "substitute-back", said)
    return working.finish()
