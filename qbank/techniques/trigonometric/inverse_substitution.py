"""The angle as the new letter, where an inverse circular function stands in a way that parts alone do not undo.

int x^2 arcsin(x)/sqrt(1 - x^2) dx    t = arcsin x    int t sin^2 t dt
int e^(arctan x)/(1 + x^2)^2 dx       t = arctan x    int e^t cos^2 t dt

The integral in t is for parts and the techniques of circular functions; the triangle leads back.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.constant_factor import ONE, before_integral
from qbank.maths.derivative import arranged
from qbank.maths.equation import Equation
from qbank.maths.expression import Apply, Expression, Integral, Sum, Symbol, sum_of
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.circular.circular_powers import CIRCULAR
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost
from qbank.techniques.standard.standard_sums import expanded_terms
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.trigonometric.double_sines import identities, without_multiples
from qbank.techniques.trigonometric.inverse_plan import InversePlan, inverse_plan
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["inverse_substitution"]

_IDENTIFIER = "inverse-substitution"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A plan, the name of the inverse function, and the worked solution in t without the constant in front."""

    plan: InversePlan
    name: str
    solution: WorkedSolution

    @property
    def angle(self) -> Expression:
        """T in the variable."""
        return Apply(self.name, self.plan.inner.tree)

    def plain(self, in_letter: Expression) -> Expression:
        """An antiderivative in t without multiples of t."""
        return without_multiples(in_letter, self.plan.letter, self.plan.kind.doubled)

    def answer(self, in_letter: Expression) -> Expression:
        """The same in the variable, with the constant in front, before anything is collected."""
        back = self.plan.put_back(multiplied(self.plan.front, self.plain(in_letter)), self.angle)
        terms = back.terms if isinstance(back, Sum) else (back,)
        return sum_of(*(arranged(term, self.plan.variable) for term in terms))


def inverse_substitution(solve: Solver) -> Technique:
    """The technique, given what solves the integral in t."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        seen = inverse_plan(integrand, variable)
        solution = None if seen is None else solved_beside(integrand, solve, seen[0].outer, seen[0].letter)
        if seen is None or solution is None:
            return None
        return _Found(plan=seen[0], name=seen[1], solution=solution)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    def slip(name: str, sentence: str, wrong: Callable[[_Found], Expression | None]) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            found = find(solution.integrand, solution.variable)
            changed = None if found is None else wrong(found)
            if changed is None or changed == solution.antiderivative:
                return None
            return changed if solution.variable in changed.symbols() else None

        return Slip(identifier=f"inverse-{name}", sentence=sentence, answer=answer)

    def du_for_dx(found: _Found) -> Expression | None:
        bare = solve(found.plan.bare, found.plan.letter)
        return None if bare is None else found.plan.put_back(found.plain(bare.antiderivative), found.angle)

    def slope_forgotten(found: _Found) -> Expression | None:
        slope = found.plan.inner.slope
        return None if slope == ONE else multiplied(slope, found.answer(found.solution.antiderivative))

    return Technique(
        identifier=_IDENTIFIER,
        title="Substitution: the angle that an inverse circular function is",
        work=work,
        slips=(
            slip(
                "differential-not-replaced",
                say(
                    "The differential must be replaced as well: dx is the derivative of the variable times dt."
                ),
                du_for_dx,
            ),
            slip(
                "inner-coefficient-forgotten",
                say("Divide by the coefficient of the variable when the differential is replaced."),
                slope_forgotten,
            ),
            sign_of_a_term_lost("inverse"),
            last_term_lost("inverse"),
            differentiated_instead("inverse"),
        ),
    )


def _worked(integrand: Expression, variable: Symbol, found: _Found) -> WorkedSolution:
    plan, solution = found.plan, found.solution
    working = Working(_IDENTIFIER, integrand, variable)
    letter = plan.letter
    said = say("Substitute the angle that the inverse function is; the variable is a function of it.")
    if plan.odd and plan.kind.one_sign is not None:
        said = plan.kind.one_sign
    working.let_be(letter, found.angle, *plan.equations(), reason=said)
    working.step(
        before_integral(plan.front, Integral(plan.outer, letter)),
        "substitution",
        say("Write everything in {letter} and simplify.", letter=letter.name),
    )
    carry(working, solution.lines, lambda line: multiplied(plan.front, line))
    whole = multiplied(plan.front, solution.antiderivative)
    doubles = identities(whole, letter, plan.kind.doubled)
    if doubles:
        said = say(
            "The triangle will show the angle {letter} itself, so write this without multiples of it.",
            letter=letter.name,
        )
        working.found(*doubles, rule="double-angle", reason=said)
        whole = multiplied(plan.front, found.plain(solution.antiderivative))
        working.step(whole, "double-angle", say("Put this in."))
    used = {node.function for node in whole.walk() if isinstance(node, Apply) and node.argument == letter}
    sides = plan.sides()
    shown = tuple(Equation(Apply(name, letter), sides[name].tree()) for name in CIRCULAR if name in used)
    if shown:
        said = say("Read these from the right-angled triangle; Pythagoras gives its third side.")
        working.found(*shown, rule="triangle", reason=said)
    answer = found.answer(solution.antiderivative)
    working.step(answer, "substitute-back", say("Put the variable back."))
    terms = tuple(arranged(term, variable) for term in expanded_terms(answer, variable))
    moving = tuple(term for term in terms if variable in term.symbols())
    if moving and _size(sum_of(*moving)) < _size(answer):
        said = say("Multiply out and collect.")
        if moving != terms:
            said = say("Multiply out and collect; a constant goes into the constant of integration.")
        working.step(sum_of(*moving), "tidy", said)
    return working.finish()


def _size(tree: Expression) -> int:
    return sum(1 for _ in tree.walk())
