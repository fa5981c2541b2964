"""A linear expression beside the root of a quadratic, both below the line: u is one over the linear expression.

int 1/(x sqrt(x^2 + x + 1)) dx        u = 1/x          -(|x|/x) int 1/sqrt(u^2 + u + 1) du
int 1/((x + 1)^2 sqrt(x^2 + 1)) dx    u = 1/(x + 1)    the same sign before int u/sqrt(2u^2 - 2u + 1) du

The root of u^2 is |u|; the sign of u is a constant on each side of the place where the linear expression is 0.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import before_integral, number, times
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Differential,
    Expression,
    Integer,
    Integral,
    Power,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored, power_tree
from qbank.maths.notation import plain
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.tidying import tidy
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.roots.root_and_line import root_and_line
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["reciprocal_substitution"]

_IDENTIFIER = "reciprocal-substitution"

#: higher powers are nobody's exercise
_POWER_LIMIT = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """`constant / (g^n sqrt(q))` with `u = 1/g`.

    Attributes:
        variable: the variable.
        letter: u.
        linear: g.
        slope: of g.
        under: q.
        inside: u^2 q, a polynomial in u.
        power: n.
        constant: what stands in front.
    """

    variable: Symbol
    letter: Symbol
    linear: Expression
    slope: Fraction
    under: Expression
    inside: Expression
    power: int
    constant: Factored

    @property
    def modulus(self) -> Expression:
        """|g|."""
        return Apply("abs", self.linear)

    @property
    def front(self) -> Factored:
        """The constant and the sign before the integral in u."""
        sign = Factored(
            coefficient=fraction(1, 1),
            powers=((self.modulus, fraction(1, 1)), (self.linear, fraction(-1, 1))),
        )
        return times(self.constant, number(-1 / self.slope), sign)

    def outer(self) -> Expression:
        """What is integrated in u."""
        return Quotient(
            power_tree(self.letter, Fraction(self.power - 1)) if self.power > 1 else Integer(1),
            Root(self.inside),
        )

    def answer(self, antiderivative: Expression) -> Expression:
        """An antiderivative in u written in the variable, with all that stands in front."""
        terms = antiderivative.terms if isinstance(antiderivative, Sum) else (antiderivative,)
        return sum_of(*(times(self.front, factored(tidy(self._back(term)))).tree() for term in terms))

    def _back(self, tree: Expression) -> Expression:
        """One over g for u; the root of a multiple of the polynomial as a root in the variable over |g|."""
        match tree:
            case self.letter:
                return Quotient(Integer(1), self.linear)
            case Root(radicand, 2) if (multiple := self._multiple(radicand)) is not None:
                return Quotient(Root(multiple), self.modulus)
            case Power(base, exponent) if (n := as_fraction(exponent)) is not None and (
                multiple := self._multiple(base)
            ) is not None:
                return Quotient(Power(multiple, exponent), self._size(2 * n))
            case _:
                return tree.rebuild(self._back)

    def _size(self, power: Fraction) -> Expression:
        """A whole power of |g|, with one modulus at most."""
        even = power - power % 2
        whole = power_tree(self.linear, even) if even else Integer(1)
        return product(self.modulus, whole) if power % 2 else whole

    def _multiple(self, tree: Expression) -> Expression | None:
        """The multiple of q that a multiple of u^2 q stands for."""
        known, found = as_polynomial(self.inside, self.letter), as_polynomial(tree, self.letter)
        whole = as_polynomial(self.under, self.variable)
        if not (known and found and whole) or len(known) != len(found):
            return None
        size = found[-1] / known[-1]
        if tuple(size * c for c in known) != tuple(found):
            return None
        return self.under if size == 1 else polynomial_tree(tuple(size * c for c in whole), self.variable)


def reciprocal_substitution(solve: Solver) -> Technique:
    """The technique, given what solves the integral in u."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> tuple[_Plan, WorkedSolution] | None:
        plan = _plan(integrand, variable)
        solution = None if plan is None else solved_beside(integrand, solve, plan.outer(), plan.letter)
        if plan is None or solution is None:
            return None
        return plan, solution

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, *found)

    def slip(name: str, sentence: str, wrong: Callable[[_Plan, WorkedSolution], Expression | None]) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            found = find(solution.integrand, solution.variable)
            changed = None if found is None else wrong(*found)
            return None if changed == solution.antiderivative else changed

        return Slip(identifier=f"reciprocal-{name}", sentence=sentence, answer=answer)

    def du_for_dx(plan: _Plan, _: WorkedSolution) -> Expression | None:
        raised = replace(plan, power=plan.power + 2)
        solution = solve(raised.outer(), plan.letter)
        if solution is None:
            return None
        return multiplied(number(-plan.slope), plan.answer(solution.antiderivative))

    return Technique(
        identifier=_IDENTIFIER,
        title="Substitution: u is one over a linear expression",
        work=work,
        slips=(
            slip(
                "sign-of-differential",
                say("The derivative of a reciprocal is negative: the differential brings a minus sign."),
                lambda plan, solution: multiplied(number(-1), plan.answer(solution.antiderivative)),
            ),
            slip(
                "differential-not-replaced",
                say(
                    "The differential must be replaced as well: it brings one over the square of the new letter."
                ),
                du_for_dx,
            ),
            sign_of_a_term_lost("reciprocal"),
            last_term_lost("reciprocal"),
            differentiated_instead("reciprocal"),
        ),
    )


def _plan(integrand: Expression, variable: Symbol) -> _Plan | None:
    seen = root_and_line(integrand, variable, root=fraction(-1, 2), most=_POWER_LIMIT)
    if seen is None:
        return None
    letter = spare_letter(product(integrand, variable))
    return _Plan(
        variable=variable,
        letter=letter,
        linear=seen.linear,
        slope=seen.slope,
        under=seen.under,
        inside=polynomial_tree(tuple(reversed(seen.numbers)), letter),
        power=seen.power,
        constant=seen.constant,
    )


def _worked(integrand: Expression, plan: _Plan, solution: WorkedSolution) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, plan.variable)
    letter, inside = plan.letter, plain(plan.linear)
    rate = Factored(coefficient=-1 / plan.slope, powers=((letter, fraction(-2, 1)),)).tree()
    working.let_be(
        letter,
        Quotient(Integer(1), plan.linear),
        Equation(plan.linear, Quotient(Integer(1), letter)),
        Equation(Differential(plan.variable), tidy(product(rate, Differential(letter)))),
        Equation(Root(plan.under), Quotient(Root(plan.inside), Apply("abs", letter))),
        reason=say(
            "Substitute one over {inside}: the root of the square that comes out is a modulus.", inside=inside
        ),
    )
    said = say(
        "Write everything in {letter}. The modulus of {inside} over {inside} is 1 or -1, a constant on each piece, so it "
        "stands in front.",
        letter=letter.name,
        inside=inside,
    )
    working.step(before_integral(plan.front, Integral(plan.outer(), letter)), "substitution", said)
    carry(working, solution.lines, lambda line: multiplied(plan.front, line))
    back = say("Put the function back for {letter}.", letter=letter.name)
    working.step(plan.answer(solution.antiderivative), "substitute-back", back)
    return working.finish()
