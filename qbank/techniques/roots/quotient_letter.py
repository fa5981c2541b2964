"""Powers of two linear expressions whose exponents add up to a whole number: their quotient is the new letter.

sqrt(1 + x)/(1 - x)^(5/2)              u = (1 + x)/(1 - x)     1/2 int sqrt(u) du
1/((1 - x)^(5/2) (1 + x)^(5/2))        the same                int (u + 1)^3/(16 u^(5/2)) du

A^p B^q is u^p B^(p + q), and du is a number over B^2 times dx; what is left of B is a number over a linear expression in u.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import comb

from qbank.maths.constant_factor import before_integral, in_front, number, over, split_constant, times
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Differential,
    Expression,
    Integral,
    Quotient,
    Symbol,
    fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.factors import Factored, power_tree
from qbank.maths.polynomial import as_linear, polynomial_tree
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, letters_of, multiplied
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost, slips_of
from qbank.techniques.substituting.substitution_search import put_back
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["quotient_letter"]

_IDENTIFIER = "quotient-as-letter"

#: what is left of B may be multiplied out to this power
_POWER_LIMIT = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """`constant * A^p B^q`.

    Attributes:
        variable: the variable.
        constant: in front.
        letter: u.
        quotient: A/B.
        below: B.
        size: the number over B^2 that the derivative of u is.
        solved: B in u.
        front: all that stands in front of the integral in u.
        outer: what is integrated there.
        expanded: the same multiplied out.
    """

    variable: Symbol
    constant: Factored
    letter: Symbol
    quotient: Expression
    below: Expression
    size: Fraction
    solved: Expression
    front: Factored
    outer: Expression
    expanded: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A substitution, and the working of what is left."""

    seen: _Seen
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
        seen = _seen(integrand, variable)
        solution = None if seen is None else solve(seen.expanded, seen.letter)
        if seen is None or solution is None or letters_of(solution) & integrand.symbols():
            return None
        return _Found(seen=seen, solution=solution)

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


@lru_cache(maxsize=64)
def _seen(integrand: Expression, variable: Symbol) -> _Seen | None:
    constant, moving = split_constant(integrand, variable)
    if len(moving.powers) != 2 or not constant.coefficient:
        return None
    (above, p), (below, q) = moving.powers
    first, second = as_linear(above, variable), as_linear(below, variable)
    if first is None or second is None or p.denominator == 1 or (p + q).denominator != 1:
        return None
    left = -(p + q) - 2
    (a, b), (c, d) = first, second
    size = a * d - b * c
    if not 0 <= left <= _POWER_LIMIT or not size or not a or not c:
        return None
    letter = spare_letter(integrand)
    sign, n = (1 if size > 0 else -1), int(left)
    line = (sign * a, -sign * c)
    factors = ((letter, p), (polynomial_tree(line, letter), left)) if left else ((letter, p),)
    terms = (
        scaled(comb(n, k) * line[0] ** (n - k) * line[1] ** k, power_tree(letter, p + k))
        for k in range(n, -1, -1)
    )
    return _Seen(
        variable=variable,
        constant=constant,
        letter=letter,
        quotient=Quotient(above, below),
        below=below,
        size=size,
        solved=Quotient(rational(abs(size)), polynomial_tree(line, letter)),
        front=times(constant, over(number(size)), number((1 / abs(size)) ** n)),
        outer=Factored(coefficient=fraction(1, 1), powers=factors).tree(),
        expanded=sum_of(*terms),
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
