"""The root of a quadratic with letters: the square is completed, and the bracket is the new letter.

1/sqrt(2a x - x^2)     2a x - x^2 = a^2 - (x - a)^2                 arcsin((x - a)/|a|)
1/sqrt((x - a)(x - b)) the square of x - (a + b)/2, less a constant
sqrt(x^2 + b x + c)    (x + b/2)^2 + c - b^2/4

What is left has no linear term under the root and is for the other techniques.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.constant_factor import before_integral
from qbank.maths.expression import (
    Expression,
    Integer,
    Integral,
    Sum,
    Symbol,
    opposite,
    sum_of,
)
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.roots.square_with_letters import SquareWithLetters, square_with_letters
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost, slips_of
from qbank.techniques.substituting.substitution_search import put_back
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["letter_square"]

_IDENTIFIER = "letter-square"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A quadratic with its square completed, and the working of what is left."""

    seen: SquareWithLetters
    solution: WorkedSolution

    def answer(self, antiderivative: Expression, moved: Expression | None = None) -> Expression:
        """An antiderivative in the letter, written in the variable; with another bracket, a slip."""
        seen = self.seen
        back = put_back(antiderivative, seen.letter, moved or seen.moved)
        # the quadratic stands as it was given, not with its square completed
        return multiplied(seen.constant, back if moved else back.replaced(seen.square, seen.under))


def letter_square(solve: Solver) -> Technique:
    """The technique, given what solves the integral without the linear term."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        seen = square_with_letters(integrand, variable)
        solution = None if seen is None else solved_beside(integrand, solve, seen.core, seen.letter)
        return None if seen is None or solution is None else _Found(seen=seen, solution=solution)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, found)

    slip = slips_of("letter-square", find)

    return Technique(
        identifier=_IDENTIFIER,
        title="Roots of quadratics with letters: the square is completed",
        work=work,
        slips=(
            slip(
                "sign-in-bracket",
                say("Multiply the square out again: the linear term shows which sign stands in the bracket."),
                _sign_in_bracket,
            ),
            slip(
                "bracket-not-put-back",
                say("The new letter stands for the whole bracket: put all of it back."),
                lambda found: found.answer(found.solution.antiderivative, found.seen.variable),
            ),
            sign_of_a_term_lost("letter-square"),
            last_term_lost("letter-square"),
            differentiated_instead("letter-square"),
        ),
    )


def _sign_in_bracket(found: _Found) -> Expression | None:
    """`x + a` for `x - a`; not where the root is real for a part of the line only, which is another part then."""
    moved = found.seen.moved
    if not found.seen.rises or not isinstance(moved, Sum):
        return None
    x, shift = moved.terms[0], sum_of(*moved.terms[1:])
    wrong = sum_of(x, opposite(shift))
    return found.answer(found.solution.antiderivative, wrong)


def _worked(integrand: Expression, found: _Found) -> WorkedSolution:
    seen = found.seen
    working = Working(_IDENTIFIER, integrand, seen.variable)
    working.aside(seen.under, seen.square, "complete-square", say("Complete the square."))
    working.let(seen.letter, seen.moved, Integer(1), say("Let the bracket be the new letter."))
    said = say("Write everything in {letter}.", letter=seen.letter.name)
    working.step(before_integral(seen.constant, Integral(seen.core, seen.letter)), "substitution", said)
    carry(working, found.solution.lines, lambda line: multiplied(seen.constant, line))
    said = say("Put the bracket back for {letter}; its square is in the quadratic.", letter=seen.letter.name)
    working.step(found.answer(found.solution.antiderivative), "substitute-back", said)
    return working.finish()
