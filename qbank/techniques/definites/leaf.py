"""The last stretch of every way: from an integral with limits to square brackets, by a worked antiderivative."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache, partial

from qbank.maths.expression import Evaluated, Expression, Integral, Symbol
from qbank.messages import say
from qbank.techniques.definite import at_limits, slips_at
from qbank.techniques.definites.carried import Carried, carried
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.way import Place, Wrong, as_it_is
from qbank.techniques.planner import TECHNIQUES, solve_with, technique
from qbank.techniques.technique import Slip
from qbank.techniques.working import Line, WorkedSolution

__all__ = ["Leaf", "ends", "leaf", "leaves"]


@lru_cache(maxsize=2048)
def _worked(identifier: str, integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    """An antiderivative by one technique; several ways ask for the same ones."""
    return solve_with(identifier, integrand, variable)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """The lines from an integral to square brackets.

    Attributes:
        start: the integral that they begin with.
        worked: the antiderivative that they come from.
        before: the antiderivative worked by itself, where its lines cannot have limits; else nothing.
        lines: the lines with limits.
        found: what was carried, where it was.
    """

    start: Integral
    worked: WorkedSolution
    before: tuple[Line, ...]
    lines: tuple[Line, ...]
    found: Carried | None

    def write(self, chain: Chain, place: Place = as_it_is) -> None:
        """Write the lines, each step with something round it."""
        if self.before:
            chain.add(self.before)
            # a new chain begins where the one that was left stood
            chain.note(
                "statement",
                place(self.start),
                rule="limits",
                reason=say("Now take the integral with its limits."),
                proof=self.worked.proof,
            )
        chain.take(self.lines, place)

    def wrongs(self) -> Iterator[Wrong]:
        """What students make of the antiderivative and its limits, then of its technique."""
        lower, upper = ends(self.start)
        variable = self.start.variable
        for told in slips_at(self.worked.antiderivative, variable, lower, upper):
            yield Wrong(told.slip, told.sentence, lambda told=told: told.answer)  # type: ignore[misc]
        for slip in technique(self.worked.technique).slips:
            yield Wrong(slip.identifier, slip.sentence, partial(self._of_technique, slip))

    def pairs(self) -> Iterator[tuple[Wrong, Wrong]]:
        """The slips of the technique, each with one with the limits besides."""
        for slip in technique(self.worked.technique).slips:
            answer = slip.answer(self.worked)
            if answer is None or not answer.symbols() <= {self.start.variable}:
                continue
            first = Wrong(slip.identifier, slip.sentence, partial(self._of_technique, slip))
            for told in slips_at(answer, self.start.variable, *ends(self.start)):
                yield first, Wrong(told.slip, told.sentence, lambda told=told: told.answer)  # type: ignore[misc]

    def _of_technique(self, slip: Slip) -> Expression | None:
        """The wrong antiderivative of a slip between the limits."""
        answer = slip.answer(self.worked)
        if answer is None or not answer.symbols() <= {self.start.variable}:
            return None
        return at_limits(answer, self.start.variable, *ends(self.start))


def leaf(integral: Integral, worked: WorkedSolution) -> Leaf:
    """The lines from an integral to square brackets, with limits all the way where that can be.

    Args:
        integral: with limits, which may be letters.
        worked: an antiderivative of its integrand.
    """
    lower, upper = ends(integral)
    found = carried(worked, lower, upper)
    if found is not None:
        return Leaf(start=integral, worked=worked, before=(), lines=found.lines, found=found)
    first = Line(
        kind="statement",
        statements=(Integral(worked.integrand, worked.variable),),
        rule="antiderivative-first",
        reason=say("Find an antiderivative first, without its constant."),
        proof=worked.proof,
    )
    bracket = Line(
        kind="step",
        statements=(Evaluated(worked.antiderivative, worked.variable, lower, upper),),
        rule="limits",
        reason=say("Put the antiderivative between the limits."),
        proof=worked.proof,
    )
    return Leaf(start=integral, worked=worked, before=(first, *worked.lines), lines=(bracket,), found=None)


def leaves(integral: Integral) -> Iterator[Leaf]:
    """The last stretches by all techniques that fit, the one taught first in front."""
    for known in TECHNIQUES:
        worked = _worked(known.identifier, integral.integrand, integral.variable)
        if worked is not None:
            yield leaf(integral, worked)


def ends(integral: Integral) -> tuple[Expression, Expression]:
    """The limits of an integral that has them."""
    assert integral.lower is not None
    assert integral.upper is not None
    return integral.lower, integral.upper
