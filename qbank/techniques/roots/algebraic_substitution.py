"""The substitution u = a root, which leaves something rational in u for the other techniques.

int x sqrt(2x + 1) dx       u = sqrt(2x + 1)    int (u^4 - u^2)/2 du
int 1/(1 + sqrt x) dx       u = sqrt x          int 2u/(1 + u) du
int x^3/sqrt(x^2 + 4) dx    u = sqrt(x^2 + 4)   int (u^2 - 4) du
int e^sqrt(x) dx            u = sqrt x          2 int u e^u du
"""

from __future__ import annotations

from functools import lru_cache

from qbank.maths.constant_factor import before_integral
from qbank.maths.expression import Expression, Integral, Symbol
from qbank.messages import Message, say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.roots.algebraic_slips import Found, algebraic_slips
from qbank.techniques.roots.root_substitution import RootSubstitution, root_substitution
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["algebraic_substitution"]

_IDENTIFIER = "algebraic-substitution"


def algebraic_substitution(solve: Solver) -> Technique:
    """The technique, given what solves the integral in u."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> Found | None:
        seen = root_substitution(integrand, variable)
        solution = None if seen is None else solved_beside(integrand, solve, seen.outer, seen.letter)
        if seen is None or solution is None:
            return None
        return Found(seen=seen, solution=solution)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    return Technique(
        identifier=_IDENTIFIER,
        title="Substitution: u is a root, a bracket or an exponential",
        work=work,
        slips=algebraic_slips(find, solve),
    )


def _reason(seen: RootSubstitution) -> Message:
    if seen.seen.index > 1:
        return say("Substitute the root, and solve for what is under it.")
    if seen.seen.power:
        return say("Substitute the bracket: a power of one letter can be multiplied out.")
    return say("Substitute the exponential: what is left is a fraction in the new letter.")


def _worked(integrand: Expression, variable: Symbol, found: Found) -> WorkedSolution:
    seen = found.seen
    working = Working(_IDENTIFIER, integrand, variable)
    working.let_be(
        seen.letter,
        seen.meaning,
        *seen.equations(),
        reason=_reason(seen),
    )
    line = before_integral(seen.front, Integral(seen.outer, seen.letter))
    working.step(
        line, "substitution", say("Write everything in {letter} and simplify.", letter=seen.letter.name)
    )
    carry(working, found.solution.lines, lambda line: multiplied(seen.front, line))
    answer = found.answer(found.solution.antiderivative)
    back = say("Put the root back for {letter}.", letter=seen.letter.name)
    if seen.seen.index == 1:
        back = say("Put the function back for {letter}.", letter=seen.letter.name)
    working.step(answer, "substitute-back", back)
    return working.finish()
