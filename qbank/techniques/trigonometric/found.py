"""A trigonometric substitution with the integral in t worked and the way back found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self

from qbank.maths.constant_factor import times
from qbank.maths.expression import Expression
from qbank.maths.factors import Factored
from qbank.maths.surds import Surd
from qbank.techniques.carrying import Solver
from qbank.techniques.trigonometric.put_back import PutBack, put_back
from qbank.techniques.trigonometric.pythagorean import taken_apart
from qbank.techniques.trigonometric.trigonometric_plan import TrigonometricPlan
from qbank.techniques.working import WorkedSolution

__all__ = ["Found"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A substitution, the worked solution of the integral in t, and the way back.

    Attributes:
        plan: the substitution.
        front: the number of the substitution in front of the integral in t.
        outer: what is integrated there.
        apart: the same taken apart into terms, where no technique works it as it stands.
        solution: how.
        back: what the last lines are written from.
    """

    plan: TrigonometricPlan
    front: Surd
    outer: Expression
    apart: Expression | None
    solution: WorkedSolution
    back: PutBack

    @classmethod
    def of(cls, plan: TrigonometricPlan, solve: Solver) -> Self | None:
        """Run a plan to its end; None when the integral in t is for no technique, or no way leads back."""
        front, outer = plan.in_letter()
        solution, apart = solve(outer, plan.letter), None
        if solution is None and len(plan.seen.terms) == 1:
            apart = taken_apart(plan.powers(plan.seen.terms[0][0]), plan.letter)
            solution = None if apart is None else solve(apart, plan.letter)
        if solution is None:
            return None
        back = put_back(
            solution.antiderivative, plan.triangle(), plan.meaning(modulus=True), plan.seen.constant, front
        )
        if back is None:
            return None
        return cls(plan=plan, front=front, outer=outer, apart=apart, solution=solution, back=back)

    def whole_front(self) -> Factored:
        """All that stands in front of the integral in t."""
        return times(self.plan.seen.constant, self.front.factor())
