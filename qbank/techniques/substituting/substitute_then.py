"""A substitution that leaves an integral for another technique.

    x sin^2(x^2)       u = x^2    1/2 int sin^2 u du      even powers
    e^x/(e^(2x) - 1)   u = e^x    int 1/(u^2 - 1) du      a quadratic below the line

Its slips are those of the other technique, made in the integral in u.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import islice

from qbank.maths.expression import Expression, Symbol
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.substituting.substitution_lines import substitution_lines
from qbank.techniques.substituting.substitution_search import Outer, outer_forms, put_back
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["substitute_then"]

_IDENTIFIER = "substitution-first"

#: so many parts of an integrand are tried at most
_TRY_LIMIT = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A substitution, and the worked solution of the integral in u without the constant in front."""

    seen: Outer
    solution: WorkedSolution

    def answer(self, in_letter: Expression) -> Expression:
        """An antiderivative in u, with the constant in front and the function put back."""
        whole = multiplied(self.seen.front, in_letter)
        return put_back(whole, self.seen.letter, self.seen.inner)


def substitute_then(solve: Solver, families: tuple[Technique, ...]) -> Technique:
    """The technique, given what solves the integral in u, and whose slips may occur in it."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        for seen in islice(outer_forms(integrand, variable), _TRY_LIMIT):
            solution = solved_beside(integrand, solve, seen.outer, seen.letter)
            if solution is not None:
                return _Found(seen=seen, solution=solution)
        return None

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    def carried(slip: Slip, family: str) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            found = find(solution.integrand, solution.variable)
            if found is None or found.solution.technique != family:
                return None
            wrong = slip.answer(found.solution)
            return None if wrong is None else found.answer(wrong)

        return Slip(identifier=f"{_IDENTIFIER}-{slip.identifier}", sentence=slip.sentence, answer=answer)

    return Technique(
        identifier=_IDENTIFIER,
        title="Substitution, then another technique",
        work=work,
        slips=tuple(carried(slip, family.identifier) for family in families for slip in family.slips),
    )


def _worked(integrand: Expression, variable: Symbol, found: _Found) -> WorkedSolution:
    seen = found.seen
    working = Working(_IDENTIFIER, integrand, variable)
    substitution_lines(working, seen, integrand)
    carry(working, found.solution.lines, lambda line: multiplied(seen.front, line))
    answer = found.answer(found.solution.antiderivative)
    working.step(
        answer, "substitute-back", say("Put the function back for {letter}.", letter=seen.letter.name)
    )
    return working.finish()
