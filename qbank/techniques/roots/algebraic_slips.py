"""What students do when a root is substituted.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from qbank.maths.constant_factor import number
from qbank.maths.expression import Expression, Symbol
from qbank.maths.factors import Factored
from qbank.messages import say
from qbank.techniques.carrying import Solver, multiplied
from qbank.techniques.roots.root_substitution import RootSubstitution, root_substitution
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost
from qbank.techniques.standard.standard_sums import expanded_plan, plan_as_written
from qbank.techniques.substituting.substitution_search import put_back
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["Found", "algebraic_slips"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A substitution, and the worked solution of the integral in u without the constant in front."""

    seen: RootSubstitution
    solution: WorkedSolution

    def answer(self, in_letter: Expression) -> Expression:
        """An antiderivative in u, with the constant in front and the root put back."""
        return put_back(multiplied(self.seen.front, in_letter), self.seen.letter, self.seen.meaning)


_Wrong: TypeAlias = Callable[[Found, WorkedSolution], Expression | None]


def algebraic_slips(find: Callable[[Expression, Symbol], Found | None], solve: Solver) -> tuple[Slip, ...]:
    """The slips, given what finds the substitution and what solves an integral in u."""

    def slip(name: str, sentence: str, wrong: _Wrong) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            found = find(solution.integrand, solution.variable)
            changed = wrong(found, solution) if found is not None else None
            if changed is None or changed == solution.antiderivative:
                return None
            return changed if solution.variable in changed.symbols() else None

        return Slip(identifier=f"root-{name}", sentence=sentence, answer=answer)

    def du_for_dx(found: Found, _: WorkedSolution) -> Expression | None:
        bare = solve(found.seen.bare, found.seen.letter)
        return None if bare is None else put_back(bare.antiderivative, found.seen.letter, found.seen.meaning)

    return (
        slip(
            "differential-not-replaced",
            say("The differential must be replaced as well: dx is not du."),
            du_for_dx,
        ),
        *(slip(*row) for row in _ROWS),
        sign_of_a_term_lost("root"),
        last_term_lost("root"),
        differentiated_instead("root"),
    )


def _integral(tree: Expression, found: Found) -> Expression | None:
    """The integral of something in u that is a sum of standard forms, with the root put back."""
    letter = found.seen.letter
    plan = plan_as_written(tree, letter) or expanded_plan(tree, letter)
    return None if plan is None else put_back(plan.answer(), letter, found.seen.meaning)


def _sign_in_solving(found: Found, solution: WorkedSolution) -> Expression | None:
    """`x = (u^2 + 1)/2` for u = sqrt(2x + 1)."""
    seen = found.seen.seen
    if seen.power != 1 or not seen.shift.coefficient:
        return None
    wrong = root_substitution(solution.integrand, solution.variable, shift_sign=-1)
    if wrong is None:
        return None
    return _integral(multiplied(wrong.front, wrong.outer), found)


def _slope_forgotten(found: Found, solution: WorkedSolution) -> Expression | None:
    """The coefficient under the root is not divided by when dx is replaced."""
    slope = found.seen.seen.slope
    size = Factored(coefficient=abs(slope.coefficient), powers=slope.powers)
    return None if size == number(1) else multiplied(size, solution.antiderivative)


def _index_forgotten(found: Found, solution: WorkedSolution) -> Expression | None:
    """The 2 of `2u du` is lost."""
    return multiplied(number(Fraction(1, found.seen.seen.index)), solution.antiderivative)


def _root_not_put_back(found: Found, _: WorkedSolution) -> Expression | None:
    """What is under the root is put back for u, the root itself forgotten."""
    whole = multiplied(found.seen.front, found.solution.antiderivative)
    return put_back(whole, found.seen.letter, found.seen.seen.under)


_ROWS: tuple[tuple[str, str, _Wrong], ...] = (
    (
        "sign-in-solving-for-x",
        say("Check what x is in the new letter: a term that is moved to the other side changes its sign."),
        _sign_in_solving,
    ),
    (
        "index-of-differential-forgotten",
        say("The differential brings the index of the root as a factor."),
        _index_forgotten,
    ),
    (
        "inner-coefficient-forgotten",
        say("Divide by the coefficient of the variable when the differential is replaced."),
        _slope_forgotten,
    ),
    (
        "not-put-back",
        say("The new letter stands for the root, not for what is under it."),
        _root_not_put_back,
    ),
)
