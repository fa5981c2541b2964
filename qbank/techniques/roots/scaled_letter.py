"""Roots of a sum or difference of two squares, one of them a letter's: the variable is measured in units of the letter.

int sqrt(a^2 - x^2) dx           s = x/|a|     a^2 int sqrt(1 - s^2) ds
int a^2/(a^2 + x^2)^(3/2) dx     s = x/|a|     int 1/(1 + s^2)^(3/2) ds

The letter may be negative, so its modulus is the unit. What is left has numbers only and is for the other techniques.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.constant_factor import before_integral
from qbank.maths.equation import Equation
from qbank.maths.expression import Differential, Expression, Integral, Quotient, Symbol, fraction, product
from qbank.maths.factors import Factored
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.roots.scaling import NotHomogeneousError, Scaling, scaling
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost, slips_of
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["scaled_letter"]

_IDENTIFIER = "scaled-letter"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A scaling, the worked solution in s, and the antiderivative in the variable."""

    seen: Scaling
    solution: WorkedSolution
    answer: Expression


def scaled_letter(solve: Solver) -> Technique:
    """The technique, given what solves the integral with numbers only."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        seen = scaling(integrand, variable)
        solution = None if seen is None else solved_beside(integrand, solve, seen.outer, seen.letter)
        if seen is None or solution is None:
            return None
        try:
            answer = seen.put_back(solution.antiderivative)
        except NotHomogeneousError:
            return None
        return _Found(seen=seen, solution=solution, answer=answer)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    slip = slips_of("scaled", find)

    return Technique(
        identifier=_IDENTIFIER,
        title="A letter as the unit: roots with the square of a letter",
        work=work,
        slips=(
            slip(
                "differential-not-replaced",
                say("The differential must be replaced as well: dx brings the letter as a factor."),
                lambda found: multiplied(_over_unit(found.seen), found.answer),
            ),
            sign_of_a_term_lost("scaled"),
            last_term_lost("scaled"),
            differentiated_instead("scaled"),
        ),
    )


def _over_unit(seen: Scaling) -> Factored:
    return Factored(coefficient=fraction(1, 1), powers=((seen.unit, fraction(-1, 1)),))


def _worked(integrand: Expression, variable: Symbol, found: _Found) -> WorkedSolution:
    seen, letter = found.seen, found.seen.letter
    working = Working(_IDENTIFIER, integrand, variable)
    said = say(
        "Measure {variable} in units of {scale}; since {scale} may be negative, its modulus is the unit.",
        variable=variable.name,
        scale=seen.scale.name,
    )
    working.let_be(
        letter,
        Quotient(variable, seen.unit),
        Equation(variable, product(seen.unit, letter)),
        Equation(Differential(variable), product(seen.unit, Differential(letter))),
        reason=said,
    )
    said = say("Write everything in {letter}; the powers of the unit stand in front.", letter=letter.name)
    working.step(before_integral(seen.front, Integral(seen.outer, letter)), "substitution", said)
    carry(working, found.solution.lines, lambda line: multiplied(seen.front, line))
    working.step(
        found.answer, "substitute-back", say("Put the function back for {letter}.", letter=letter.name)
    )
    return working.finish()
