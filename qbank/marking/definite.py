"""Marking the value of a definite integral: exact forms exactly, decimals to the accuracy asked for."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cached_property

from qbank.bank.policy import ACCEPTING, Policy
from qbank.items.rounding import accepted
from qbank.marking.antiderivative import as_read, other_reading, right, unreadable, unsettled
from qbank.marking.mark import REMARKS, Mark, Remark
from qbank.marking.patience import Patience
from qbank.marking.value_parts import value_parts
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.deciding import decide_equal
from qbank.maths.enclosing import Enclosure, enclose
from qbank.maths.expression import Decimal, Expression, Integral, Negate, Symbol, as_fraction
from qbank.maths.quadrature import Enclosed, integrate_rigorously
from qbank.maths.reading import ReadingError, read_response
from qbank.maths.verdict import Proved, Refuted, Unsettled, Witness
from qbank.messages import say, say_count
from qbank.techniques.definite import DefiniteRefused, DefiniteSolution, definite_slips, work_definite
from qbank.techniques.definites.choosing import value_of
from qbank.techniques.definites.way import WorkedValue, slip_answers
from qbank.techniques.technique import SlipAnswer
from qbank.techniques.working import UnprovedLineError

__all__ = ["DefiniteMarker", "NoValueError"]


class NoValueError(ValueError):
    """The integral has no value that could be established, so responses to it cannot be marked."""


class DefiniteMarker:
    """Marks responses to one definite integral.

    Args:
        integrand: what was to be integrated.
        variable: with respect to what.
        lower: the lower limit.
        upper: the upper limit.
        figures: significant figures that a decimal must have.
        policy: on decimals, on answers that can be simplified, and on slips.
        conventions: of the bank, for reading.

    Raises:
        NoValueError: rigorous quadrature refuses the integral.
    """

    def __init__(
        self,
        integrand: Expression,
        variable: Symbol,
        lower: Expression,
        upper: Expression,
        *,
        figures: int = 3,
        policy: Policy | None = None,
        conventions: Conventions = DEFAULT,
    ) -> None:
        self._policy = policy or ACCEPTING
        self._integrand, self._variable = integrand, variable
        self._lower, self._upper = lower, upper
        self._figures = figures
        self._conventions = conventions
        enclosed = integrate_rigorously(integrand, variable, lower, upper)
        if not isinstance(enclosed, Enclosed):
            raise NoValueError(enclosed.reason)
        self._enclosed = enclosed

    def mark(self, response: str) -> Mark:
        """Mark one response as typed."""
        mark = self._mark(response)
        if mark.outcome == "unreadable" or any(r.identifier == "constant-in-value" for r in mark.remarks):
            forms, has_unit = value_parts(response)
            if forms and forms != (response,):
                return self._in_forms([self._mark(form) for form in forms], has_unit, mark)
        return mark

    def _in_forms(self, marks: list[Mark], has_unit: bool, whole: Mark) -> Mark:
        """The mark of a value in several forms, or with a unit: of the form of most worth, where all are right."""
        outcomes = {mark.outcome for mark in marks}
        if "unreadable" in outcomes:
            return whole
        if outcomes != {"correct"} and len(marks) > 1:
            return unsettled(Unsettled(reason="the forms of the answer were not all found to be right"))
        best = max(marks, key=lambda mark: mark.score or 0.0)
        said = (Remark(identifier="unit", sentence=REMARKS["unit"]),) if has_unit else ()
        return replace(best, remarks=said + best.remarks)

    def _mark(self, response: str) -> Mark:
        """Mark one response that is a value and nothing else."""
        try:
            reading = read_response(response, conventions=self._conventions, variable=self._variable)
        except ReadingError as error:
            return unreadable(error)
        patience = Patience()
        mark = self._decide(reading.tree, patience)
        if mark.outcome == "incorrect":
            for other in reading.alternatives:
                second = self._decide(other, patience)
                if second.outcome == "correct":
                    return as_read(second, other, other_reading(reading), self._conventions)
        return as_read(mark, reading.tree, reading.remarks, self._conventions)

    def _decide(self, tree: Expression, patience: Patience) -> Mark:
        if tree.symbols():
            return _wrong(say("A value has no letters in it."), ("constant-in-value",))
        if tree.holds(Decimal):
            return self._decimal(tree, patience)
        bounds = enclose(tree, at={})
        if bounds is not None and self._outside(bounds):
            if self._is_rounded(tree):
                return self._decimal(tree, patience)
            return self._refuted(tree, bounds.decimal, patience)
        return self._exact(tree, patience)

    def _is_rounded(self, tree: Expression) -> bool:
        """Whether a whole number is the value rounded as asked: to three figures 9384.3 is 9380, which has no point."""
        typed = as_fraction(tree)
        if typed is None or typed.denominator != 1:
            return False
        return len(str(abs(typed))) >= self._figures and self._near(typed, self._figures)

    def _outside(self, bounds: Enclosure) -> bool:
        return bounds.upper < self._enclosed.lower or bounds.lower > self._enclosed.upper

    def _exact(self, tree: Expression, patience: Patience) -> Mark:
        if self._value is None:
            reason = (
                "the exact value is not known; the response lies within the rigorous bounds of the integral"
            )
            return unsettled(Unsettled(reason=reason))
        verdict = decide_equal(tree, self._value, self._variable, budget=patience.rest())
        match verdict:
            case Proved():
                return right(tree, [], self._policy, verdict.proof)
            case Refuted(witness=witness):
                return self._refuted(tree, witness.left, patience)
            case Unsettled():
                return unsettled(verdict)

    def _refuted(self, tree: Expression, shown: str, patience: Patience) -> Mark:
        slip = self._slip(tree, patience)
        witness = Witness(point=Fraction(0), left=shown, right=self._enclosed.digits_text)
        return Mark(
            outcome="incorrect",
            score=0.0 if slip is None else float(self._policy.for_slip(slip.slip)),
            message=say("This is not the right value.") if slip is None else slip.sentence,
            slip=None if slip is None else slip.slip,
            proof="the value of the response lies outside the rigorous bounds of the integral",
            witness=witness,
        )

    def _decimal(self, tree: Expression, patience: Patience) -> Mark:
        bounds = enclose(tree, at={})
        if bounds is None:
            return _wrong(say("This expression has no real value."))
        typed = tree.operand if isinstance(tree, Negate) else tree
        figures = _figures(typed.text) if isinstance(typed, Decimal) else self._figures
        # a decimal on the very bound of what is accepted is inside, so it is taken as it is
        exact = as_fraction(tree)
        number = (bounds.lower + bounds.upper) / 2 if exact is None else exact
        if not self._near(number, self._figures):
            if 0 < figures < self._figures and not self._may_be_zero and self._near(number, figures):
                wanted = say_count(
                    "Give at least {count} significant figure.",
                    "Give at least {count} significant figures.",
                    self._figures,
                )
                return _wrong(wanted, ("too-few-figures",))
            return self._refuted(tree, bounds.decimal, patience)
        name = "decimal-value" if self._policy.exact == 1 else "exact-value-wanted"
        return Mark(
            outcome="correct",
            score=float(self._policy.left(["exact"])),
            message=say("Right.") if self._policy.exact == 1 else REMARKS[name],
            remarks=(Remark(identifier=name, sentence=REMARKS[name]),),
            proof=f"rounds to {self._figures} significant figures as {self._enclosed.digits_text} does",
        )

    @property
    def _may_be_zero(self) -> bool:
        """Whether the value may be zero, which has no significant figures."""
        return self._enclosed.lower <= 0 <= self._enclosed.upper

    def _near(self, number: Fraction, figures: int) -> bool:
        """Whether a number lies within half a unit of the rounded value, as it is scored in packages too."""
        lower, upper = accepted(self._enclosed.lower, self._enclosed.upper, figures)
        return lower <= number <= upper

    def _slip(self, tree: Expression, patience: Patience) -> SlipAnswer | None:
        for slip in self._slips:
            verdict = decide_equal(tree, slip.answer, self._variable, budget=patience.rest())
            if isinstance(verdict, Proved):
                return slip
        return None

    @cached_property
    def _value(self) -> Expression | None:
        """The exact value, where it is known."""
        if self._solution is not None:
            return self._solution.value
        return None if self._worked is None else self._worked.value

    @cached_property
    def _slips(self) -> tuple[SlipAnswer, ...]:
        """Those with the antiderivative, then those of the way that is taught first."""
        found = () if self._solution is None else definite_slips(self._solution)
        if self._worked is None:
            return found
        known = {slip.slip for slip in found}
        return (*found, *(slip for slip in slip_answers(self._worked) if slip.slip not in known))

    @cached_property
    def _worked(self) -> WorkedValue | None:
        try:
            return value_of(Integral(self._integrand, self._variable, self._lower, self._upper))
        except UnprovedLineError:
            return None

    @cached_property
    def _solution(self) -> DefiniteSolution | None:
        try:
            return work_definite(self._integrand, self._variable, self._lower, self._upper)
        except (DefiniteRefused, UnprovedLineError):
            # a mistake in a technique costs the explanation and the exact value, never the mark
            return None


def _figures(text: str) -> int:
    """How many significant figures a decimal was typed with: `0.0250` has three."""
    return len(text.replace(".", "").lstrip("0"))


def _wrong(message: str, remarks: tuple[str, ...] = ()) -> Mark:
    return Mark(
        outcome="incorrect",
        score=0.0,
        message=message,
        remarks=tuple(Remark(identifier=name, sentence=REMARKS[name]) for name in remarks),
        proof="the form of the response",
    )
