"""Marking the value of the antiderivative that has a given value elsewhere: exact forms exactly, decimals as asked."""

from __future__ import annotations

from functools import cached_property

from qbank.bank.policy import Policy
from qbank.marking.definite import DefiniteMarker, NoValueError
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.covering import defined_between
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression, Symbol, sum_of
from qbank.maths.quadrature import Enclosed
from qbank.techniques.definite import definite_slips
from qbank.techniques.planner import technique
from qbank.techniques.technique import SlipAnswer

__all__ = ["EvaluationMarker"]


class EvaluationMarker(DefiniteMarker):
    """Marks responses to one such question: the value is the given one and the integral from place to place.

    Args:
        integrand: what was to be integrated.
        variable: with respect to what.
        point: where the antiderivative has the given value.
        given: that value.
        at: where its value is asked for.
        figures: significant figures that a decimal must have.
        policy: on decimals, on answers that can be simplified, and on slips.
        conventions: of the bank, for reading.

    Raises:
        NoValueError: the places are not certain to lie in one piece of the domain, or there is no value.

    >>> from qbank.maths.expression import Integer
    >>> x = Symbol("x")
    >>> EvaluationMarker(2 * x, x, Integer(1), Integer(5), Integer(3)).mark("13").outcome
    'correct'
    """

    def __init__(
        self,
        integrand: Expression,
        variable: Symbol,
        point: Expression,
        given: Expression,
        at: Expression,
        *,
        figures: int = 3,
        policy: Policy | None = None,
        conventions: Conventions = DEFAULT,
    ) -> None:
        super().__init__(
            integrand, variable, point, at, figures=figures, policy=policy, conventions=conventions
        )
        places = [None if part.symbols() else enclose(part, at={}) for part in (point, at, given)]
        begin, end, start = places
        if begin is None or end is None or start is None:
            raise NoValueError("a place or the value given is not a number")
        lower, upper = min(begin.lower, end.lower), max(begin.upper, end.upper)
        if not defined_between(integrand, variable, lower, upper):
            raise NoValueError("the places are not certain to lie in one piece of the domain")
        self._given = given
        low, high = start.lower + self._enclosed.lower, start.upper + self._enclosed.upper
        self._enclosed = Enclosed(lower=low, upper=high, digits_text=f"{float(low):.12g}")

    @cached_property
    def _value(self) -> Expression | None:
        return None if self._solution is None else sum_of(self._given, self._solution.value)

    @cached_property
    def _slips(self) -> tuple[SlipAnswer, ...]:
        """Those of the technique; slips with limits have no place here."""
        if self._solution is None:
            return ()
        names = {slip.identifier for slip in technique(self._solution.solution.technique).slips}
        return tuple(
            SlipAnswer(slip=s.slip, sentence=s.sentence, answer=sum_of(self._given, s.answer))
            for s in definite_slips(self._solution)
            if s.slip in names
        )
