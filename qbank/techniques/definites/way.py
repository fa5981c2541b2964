"""What a way of evaluating a definite integral is, and what comes of it: a chain of proved lines to an exact value.

    Integral with limits -> Way.work -> WorkedValue (every line proved, the value inside rigorous bounds)
                                            | wrong: what each slip makes of it, as written

A way knows its slips by name; what a slip leads to depends on the plan of the integral at hand, so that `work` says it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from qbank.maths.expression import Expression, Integral
from qbank.maths.quadrature import Enclosed
from qbank.maths.verdict import Proof
from qbank.messages import Message
from qbank.techniques.definite import ValueSlip, wrong_value
from qbank.techniques.technique import SlipAnswer
from qbank.techniques.working import Line

__all__ = ["Place", "Way", "WaySlip", "WorkedValue", "Wrong", "as_it_is", "slip_answers", "value_slips"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WaySlip:
    """One typical error with a definite integral (common practice: from the marking of scripts).

    Attributes:
        identifier: words joined by hyphens, unique among those of all ways.
        sentence: what to tell the student.
    """

    identifier: str
    sentence: Message

    def leads_to(self, written: Callable[[], Expression | None]) -> Wrong:
        """What it makes of an integral."""
        return Wrong(self.identifier, self.sentence, written)


@dataclass(frozen=True, slots=True)
class Wrong:
    """What a slip makes of the integral at hand.

    Attributes:
        slip: its identifier.
        sentence: what to tell the student.
        written: the wrong answer, a constant with nothing worked out; None where the slip cannot occur.
    """

    slip: str
    sentence: str
    written: Callable[[], Expression | None]

    def inside(self, place: Callable[[Expression], Expression]) -> Wrong:
        """The same slip made in a part of a chain."""

        def written() -> Expression | None:
            tree = self.written()
            return None if tree is None else place(tree)

        return Wrong(self.slip, self.sentence, written)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedValue:
    """The value of a definite integral by one way.

    Attributes:
        way: identifier of the way.
        integral: what was asked.
        lines: the working, every line proved; the integral itself is not repeated.
        value: the exact value.
        enclosure: rigorous bounds of the integral, found from the integrand alone; the value lies inside.
        proof: that the value is that of the line before it.
        wrong: what slips make of it, the most typical first.
        pairs: what two slips make of it together, of the technique and with the limits; the second has the wrong answer.
    """

    way: str
    integral: Integral
    lines: tuple[Line, ...]
    value: Expression
    enclosure: Enclosed
    proof: Proof
    wrong: tuple[Wrong, ...]
    pairs: tuple[tuple[Wrong, Wrong], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way of evaluating a definite integral.

    Attributes:
        identifier: words joined by hyphens.
        title: as on a lesson plan.
        work: the worked value, or None when the way does not fit.
        slips: the errors of its own that it invites; those with limits come beside them.
    """

    identifier: str
    title: Message
    work: Callable[[Integral], WorkedValue | None]
    slips: tuple[WaySlip, ...]


#: what is written round a part of a chain: a number in front, other terms beside it, a limit
Place = Callable[[Expression], Expression]


def as_it_is(tree: Expression) -> Expression:
    """Nothing round it."""
    return tree


def value_slips(worked: WorkedValue) -> tuple[ValueSlip, ...]:
    """The slips of a worked value, each to be run when its wrong value is wanted.

    A slip has no value where it cannot occur, and where what it leads to is not rigorously outside the enclosure.
    """

    def run(wrong: Wrong) -> Callable[[], Expression | None]:
        def value() -> Expression | None:
            written = wrong.written()
            return None if written is None else wrong_value(written, worked.enclosure)

        return value

    return tuple(
        ValueSlip(slip=wrong.slip, sentence=wrong.sentence, value=run(wrong)) for wrong in worked.wrong
    )


def slip_answers(worked: WorkedValue) -> tuple[SlipAnswer, ...]:
    """The same, each run to its wrong value; those that have none are left out."""
    found = ((slip, slip.value()) for slip in value_slips(worked))
    return tuple(
        SlipAnswer(slip=slip.slip, sentence=slip.sentence, answer=value)
        for slip, value in found
        if value is not None
    )
