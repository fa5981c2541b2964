"""Powers and products of sines and cosines beside a polynomial or an exponential: multiples of the angle come first.

e^x sin^2 x        1/2 e^x - 1/2 e^x cos 2x
x^2 sin x cos x    1/2 x^2 sin 2x

What is left has one sine or cosine in each term, for integration by parts.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import times
from qbank.maths.expression import Apply, E, Expression, Integral, Power, Symbol, fraction, sum_of
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_polynomial
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, solved_beside
from qbank.techniques.circular.angle_products import (
    AS_TAUGHT,
    AngleProduct,
    Identities,
    angle_product,
    product_tree,
)
from qbank.techniques.slips import last_term_lost, sign_of_a_term_lost
from qbank.techniques.standard.linear_inner import as_inner
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["multiple_angles"]

_IDENTIFIER = "multiple-angles"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """An integrand `beside * waves`.

    Attributes:
        waves: the sines and cosines.
        tree: the same as a tree.
        beside: everything else.
        identities: as the student remembers them.
    """

    waves: AngleProduct
    tree: Expression
    beside: Factored
    identities: Identities = AS_TAUGHT

    def terms(self) -> tuple[tuple[Fraction, Expression], ...]:
        """The numbers and the sines and cosines of the sum that the product is."""
        found = self.identities.finished(((self.waves.factors, fraction(1, 1)),))
        return tuple((c, product_tree(factors)) for factors, c in found)

    def lowered(self) -> Expression:
        """The product as a sum."""
        return sum_of(*(scaled(c, wave) for c, wave in self.terms()))

    def integrand(self) -> Expression:
        """The integrand with the sum in it, multiplied out."""
        return sum_of(*(times(self.beside, factored(scaled(c, wave))).tree() for c, wave in self.terms()))


def multiple_angles(solve: Solver) -> Technique:
    """The technique, given what solves the sum."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> tuple[_Plan, WorkedSolution] | None:
        plan = _plan(integrand, variable)
        solution = None if plan is None else solved_beside(integrand, solve, plan.integrand(), variable)
        if plan is None or solution is None:
            return None
        return plan, solution

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, *found)

    def slip(name: str, sentence: str, identities: Identities) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            plan = _plan(solution.integrand, solution.variable, identities)
            wrong = None if plan is None else solve(plan.integrand(), solution.variable)
            if wrong is None or wrong.antiderivative == solution.antiderivative:
                return None
            return wrong.antiderivative

        return Slip(identifier=f"multiple-{name}", sentence=sentence, answer=answer)

    return Technique(
        identifier=_IDENTIFIER,
        title="Powers of sine and cosine beside a polynomial or an exponential",
        work=work,
        slips=(
            slip(
                "half-forgotten",
                say("A product of two sines or cosines is half of a sum or a difference."),
                Identities(half=fraction(1, 1)),
            ),
            slip(
                "sign-of-identity",
                say("Check the sign between the two terms of the identity by putting in the angle 0."),
                Identities(sign=-1),
            ),
            sign_of_a_term_lost("multiple"),
            last_term_lost("multiple"),
        ),
    )


def _plan(integrand: Expression, variable: Symbol, identities: Identities = AS_TAUGHT) -> _Plan | None:
    seen = factored(integrand)
    waves = tuple((base, n) for base, n in seen.powers if _is_wave(base, variable))
    beside = seen.without(*(base for base, _ in waves))
    moving = [pair for pair in beside.powers if variable in pair[0].symbols()]
    if not moving or sum(n for _, n in waves) < 2 or not all(_is_simple(*pair, variable) for pair in moving):
        return None
    tree = Factored(coefficient=fraction(1, 1), powers=waves).tree()
    found = angle_product(tree, variable, different=False)
    return None if found is None else _Plan(waves=found, tree=tree, beside=beside, identities=identities)


def _is_wave(base: Expression, variable: Symbol) -> bool:
    return isinstance(base, Apply) and base.function in ("sin", "cos") and variable in base.symbols()


def _is_simple(base: Expression, n: Fraction, variable: Symbol) -> bool:
    """Whether it is a power of a polynomial, or an exponential."""
    if n.denominator != 1:
        return False
    if isinstance(base, Power) and base.base == E:
        return as_inner(base.exponent, variable) is not None
    return n > 0 and as_polynomial(base, variable) is not None


def _worked(integrand: Expression, variable: Symbol, plan: _Plan, solution: WorkedSolution) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, variable)
    said = say("Write the product of sines and cosines with multiples of the angle, each to the first power.")
    working.aside(plan.tree, plan.lowered(), "double-angle", said)
    working.step(Integral(plan.integrand(), variable), "double-angle", say("Put this in."))
    carry(working, solution.lines, lambda line: line)
    return working.finish()
