"""The logarithm as the new letter where x itself is no part of its derivative: u = ln x, so that x = e^u and dx = e^u du.

ln x/(1 + ln x)^2      int u e^u/(1 + u)^2 du
ln(ln x) + 1/ln x      int e^u (ln u + 1/u) du
x sin(ln x)^2          int e^(2u) sin^2 u du

Where 1/x stands beside it nothing of x is left, and that is a substitution of the plain kind.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import before_integral, split_constant, times
from qbank.maths.derivative import arranged
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Differential,
    E,
    Expression,
    Integer,
    Integral,
    Power,
    Sum,
    Symbol,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored, power_tree
from qbank.maths.polynomial import as_linear
from qbank.maths.tidying import scaled, tidy
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.slips import differentiated_instead, sign_of_a_term_lost
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["logarithm_substitution"]

_IDENTIFIER = "logarithm-substitution"
_ONE = Integer(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """`integrand dx = front outer du`.

    Attributes:
        variable: x.
        letter: u.
        front: the constant in front.
        outer: the integrand in u.
        bare: the same without what dx brings, for a slip.
    """

    variable: Symbol
    letter: Symbol
    front: Factored
    outer: Expression
    bare: Expression

    def put_back(self, tree: Expression) -> Expression:
        """An expression in u in the variable again, the constant in front."""
        whole = tidy(multiplied(self.front, self._back(tree)))
        terms = whole.terms if isinstance(whole, Sum) else (whole,)
        return sum_of(*(arranged(term, self.variable) for term in terms))

    def _back(self, tree: Expression) -> Expression:
        match tree:
            case Symbol() if tree == self.letter:
                return Apply("ln", self.variable)
            case Power(base, exponent) if base == E and (line := as_linear(exponent, self.letter)):
                raised = power_tree(self.variable, line[0])
                return product(Power(E, scaled(line[1], _ONE)), raised) if line[1] else raised
            case _:
                return tree.rebuild(self._back)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A plan, and the worked solution of the integral in u without the constant in front."""

    plan: _Plan
    solution: WorkedSolution

    @property
    def answer(self) -> Expression:
        """The antiderivative in the variable."""
        return self.plan.put_back(self.solution.antiderivative)


def logarithm_substitution(solve: Solver, families: tuple[Technique, ...]) -> Technique:
    """The technique, given what solves the integral in u, and whose slips may occur in it."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        plan = _plan(integrand, variable)
        solution = None if plan is None else solved_beside(integrand, solve, plan.outer, plan.letter)
        return None if plan is None or solution is None else _Found(plan=plan, solution=solution)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    def slip(name: str, sentence: str, wrong: Callable[[_Found], Expression | None]) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            found = find(solution.integrand, solution.variable)
            in_letter = None if found is None else wrong(found)
            if found is None or in_letter is None:
                return None
            changed = found.plan.put_back(in_letter)
            return None if changed == solution.antiderivative else changed

        return Slip(identifier=f"{_IDENTIFIER}-{name}", sentence=sentence, answer=answer)

    def carried(one: Slip, family: str) -> Slip:
        def wrong(found: _Found) -> Expression | None:
            return one.answer(found.solution) if found.solution.technique == family else None

        return slip(one.identifier, one.sentence, wrong)

    def du_for_dx(found: _Found) -> Expression | None:
        bare = solve(found.plan.bare, found.plan.letter)
        return None if bare is None else bare.antiderivative

    return Technique(
        identifier=_IDENTIFIER,
        title="Substitution: u is the logarithm, and x an exponential",
        work=work,
        slips=(
            slip(
                "differential-not-replaced",
                say("The differential must be replaced as well: dx is the exponential times du."),
                du_for_dx,
            ),
            *(carried(one, family.identifier) for family in families for one in family.slips),
            sign_of_a_term_lost(_IDENTIFIER),
            differentiated_instead(_IDENTIFIER),
        ),
    )


def _plan(integrand: Expression, variable: Symbol) -> _Plan | None:
    logarithm = Apply("ln", variable)
    if not integrand.has(logarithm):
        return None
    letter = spare_letter(product(integrand, variable))
    seen = factored(integrand.replaced(logarithm, letter))
    power = seen.exponent(variable)
    rest = seen.without(variable)
    if power == -1 or any(variable in base.symbols() for base, _ in rest.powers):
        return None
    front, bare = split_constant(times(rest, factored(_exponential(power, letter))).tree(), letter)
    outer = split_constant(times(rest, factored(_exponential(power + 1, letter))).tree(), letter)[1]
    return _Plan(
        variable=variable, letter=letter, front=front, outer=arranged(outer.tree(), letter), bare=bare.tree()
    )


def _exponential(rate: Fraction, letter: Symbol) -> Expression:
    return Power(E, scaled(rate, letter)) if rate else _ONE


def _worked(integrand: Expression, variable: Symbol, found: _Found) -> WorkedSolution:
    plan, letter = found.plan, found.plan.letter
    working = Working(_IDENTIFIER, integrand, variable)
    exponential = _exponential(fraction(1, 1), letter)
    working.let_be(
        letter,
        Apply("ln", variable),
        Equation(variable, exponential),
        Equation(Differential(variable), product(exponential, Differential(letter))),
        reason=say("Let the logarithm be the new letter; the variable is an exponential of it."),
    )
    working.step(
        before_integral(plan.front, Integral(plan.outer, letter)),
        "substitution",
        say("Write everything in {letter}.", letter=letter.name),
    )
    carry(working, found.solution.lines, lambda line: multiplied(plan.front, line))
    working.step(
        found.answer,
        "substitute-back",
        say(
            "Put the logarithm back for {letter}; the exponential of it is the variable.", letter=letter.name
        ),
    )
    return working.finish()
