"""What is asked, with its answer: the middle stage between a draw and an item.

A question knows what is wrong for it: an answer is held against it by differentiation, or by its value.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain

from qbank.items.applications.applied import Applied
from qbank.items.distractors import Candidate, Proposal
from qbank.items.evaluation import Evaluated
from qbank.items.item import Check, Sought
from qbank.maths.clock import PATIENT
from qbank.maths.deciding import decide_antiderivative, decide_equal, decide_same_up_to_constant
from qbank.maths.domain import Domain
from qbank.maths.expression import Expression, Symbol
from qbank.maths.number_system import NotSettled
from qbank.maths.points import Sides, slope_side, value_side
from qbank.maths.verdict import Proof, Refuted, Unsettled, Verdict
from qbank.techniques.definite import DefiniteSolution
from qbank.techniques.definites.way import WorkedValue
from qbank.techniques.first_step import FirstStep
from qbank.techniques.presenting import Row
from qbank.techniques.working import WorkedSolution

__all__ = ["Question", "answered"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked, with its answer.

    Attributes:
        variable: of integration.
        integrand: the integrand.
        limits: of a definite integral, else None.
        domain: the interval on which it is asked, or None.
        key: the right answer, without a constant of integration.
        proof: that it is right.
        enclosure: of a value, bounds that know nothing of the key.
        working: the worked solution, row by row.
        own: the author's wrong answers.
        proposals: the slips, run when they are wanted.
        checks: values of the integrand for readers without algebra.
        evaluated: where an antiderivative is evaluated.
        worked: of a definite integral by way of an antiderivative.
        begins: the first step of the working.
        solution: the worked solution of an indefinite integral.
        sought: where the limit is asked for.
        by_way: of a definite integral whose template names the way.
        applied: of an area, a volume and the like.
    """

    variable: Symbol
    integrand: Expression
    limits: tuple[Expression, Expression] | None
    domain: Domain | None
    key: Expression
    proof: Proof
    enclosure: tuple[Fraction, Fraction] | None
    working: tuple[Row, ...]
    own: tuple[Candidate, ...]
    proposals: tuple[Proposal, ...]
    checks: tuple[Check, ...]
    evaluated: Evaluated | None = None
    worked: DefiniteSolution | None = None
    begins: FirstStep | None = None
    solution: WorkedSolution | None = None
    sought: Sought | None = None
    by_way: WorkedValue | None = None
    applied: Applied | None = None

    @property
    def candidates(self) -> Iterator[Candidate]:
        """All wrong answers, the author's own first, then the slips in the catalogue's order."""
        return chain(self.own, answered(self.proposals))

    def against(self, answer: Expression) -> Verdict:
        """Whether an answer is right; one that is right on a part of the domain is neither right nor a distractor."""
        if self.limits is not None:
            return decide_equal(answer, self.key, self.variable, budget=PATIENT)
        verdict = self.derivative(answer)
        if isinstance(verdict, Refuted) and not self._is_wrong_everywhere(answer):
            # a witness somewhere is not enough
            return Unsettled(reason="right in places")
        return verdict

    def derivative(self, answer: Expression) -> Verdict:
        """Whether the derivative of an answer is the integrand."""
        return decide_antiderivative(
            answer, self.integrand, self.variable, domain=self.domain, budget=PATIENT
        )

    def apart(self, first: Expression, second: Expression) -> Verdict:
        """Whether two answers are the same answer: equal values, or antiderivatives of one function."""
        decide = decide_same_up_to_constant if self.limits is None else decide_equal
        return decide(first, second, self.variable, domain=self.domain, budget=PATIENT)

    def _is_wrong_everywhere(self, answer: Expression) -> bool:
        """Whether the derivative of an answer provably misses the integrand at every sample point."""
        try:
            sides = Sides(slope_side(answer), value_side(self.integrand), self.variable, {})
        except NotSettled:
            return False
        outcomes = (sides.compare({self.variable.name: check.at}).outcome for check in self.checks)
        return all(outcome in ("differ", "left undefined") for outcome in outcomes)


def answered(proposals: Iterable[Proposal]) -> Iterator[Candidate]:
    """The slips that occur, each run when it is wanted."""
    found = (proposal.candidate() for proposal in proposals)
    return (candidate for candidate in found if candidate is not None)
