"""An application worked to its value: the set-up, each integral evaluated, and what they come to together.

The value comes from the antiderivatives. It has to lie in bounds that know of the integrals alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial

from qbank.maths.clock import PATIENT
from qbank.maths.deciding import enclose, exact_value
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Integer, Negate, fraction, sum_of
from qbank.maths.number_system import Undefined
from qbank.maths.quadrature import Refused, integrate_rigorously
from qbank.maths.verdict import Proof
from qbank.messages import say
from qbank.techniques.applications.along import displacement, mean_value
from qbank.techniques.applications.asked import ApplicationRefused, Asked, SetUp, Wrong, in_front
from qbank.techniques.applications.lengths import arc_length
from qbank.techniques.applications.regions import area, distance
from qbank.techniques.applications.solids import volume
from qbank.techniques.applications.steps import equal, line
from qbank.techniques.definite import (
    DefiniteRefused,
    DefiniteSolution,
    definite_value_slips,
    work_definite,
)
from qbank.techniques.planner import technique
from qbank.techniques.presenting import Row, as_they_stand, rows
from qbank.techniques.technique import Slip
from qbank.techniques.working import Line

__all__ = ["WorkedApplication", "application_slips", "double_slips", "set_up", "work_application"]

_DIGITS = 40

_SET_UP = {
    "area": area,
    "volume": volume,
    "arc-length": arc_length,
    "mean-value": mean_value,
    "displacement": displacement,
    "distance": distance,
}


#: slips that lose the factor in front
_FRONT_FORGOTTEN = ("volume-pi-forgotten", "mean-not-divided")
#: of which 0 is a plausible answer
_MAY_BE_NOUGHT = ("mean-value", "displacement")


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedApplication:
    """The answer to an application with its working.

    Attributes:
        set_up: the integrals that answer it.
        parts: each of them, evaluated.
        lines: what follows them, every line proved; empty where the last integral is the answer already.
        value: the exact answer.
        enclosure: rigorous bounds of it, found without antiderivatives.
        proof: that it is what the integrals come to.
    """

    set_up: SetUp
    parts: tuple[DefiniteSolution, ...]
    lines: tuple[Line, ...]
    value: Expression
    enclosure: tuple[Fraction, Fraction]
    proof: Proof

    def rows(self, constant: str) -> tuple[Row, ...]:
        """The working: the set-up, the integrals one after the other, and the answer.

        Args:
            constant: the letter of the constant of integration.
        """
        found = list(as_they_stand(self.set_up.lines))
        known: set[Expression] = set()
        for part in self.parts:
            own = rows(part, constant)
            # the antiderivative is found once
            start = max(at for at, row in enumerate(own) if row.kind == "start")
            found += own[start:] if part.solution.antiderivative in known else own
            known.add(part.solution.antiderivative)
        return (*found, *as_they_stand(self.lines))


def set_up(asked: Asked) -> SetUp:
    """The integrals that answer a question, with the steps to them.

    Raises:
        ApplicationRefused: the question makes no sense for these curves, or a step could not be proved.
    """
    return _SET_UP[asked.kind](asked)


def work_application(asked: Asked) -> WorkedApplication:
    """Answer a question.

    Args:
        asked: the question.

    Raises:
        ApplicationRefused: see `set_up`, or an integral could not be evaluated.

    >>> from qbank.maths.expression import Symbol, rational
    >>> x = Symbol("x")
    >>> asked = Asked(kind="area", curves=(x**3,), variable=x, limits=(rational(-2), rational(2)))
    >>> work_application(asked).value
    Integer(value=8)
    """
    plan = set_up(asked)
    x = asked.variable
    parts: list[DefiniteSolution] = []
    for part in plan.parts:
        try:
            solution = parts[0].solution if parts else None
            parts.append(work_definite(plan.integrand, x, part.lower, part.upper, solution=solution))
        except DefiniteRefused as refusal:
            raise ApplicationRefused(refusal.reason) from refusal
    together = in_front(
        plan.front, sum_of(*(_signed(p.sign, w.value) for p, w in zip(plan.parts, parts, strict=True)))
    )
    value = exact_value(together, budget=PATIENT)
    enclosure = _enclosure(plan, parts)
    bounds = enclose(value, at={}, digits=_DIGITS)
    for low, high in (enclosure, *_as_a_whole(plan)):
        if bounds is None or bounds.upper < low or bounds.lower > high:
            raise ApplicationRefused("the answer and quadrature disagree")
    proof = equal(value, together, x)
    lines = [
        line(
            Equation(plan.letter, together),
            reason=say("Put the parts together.")
            if len(parts) > 1
            else say("Multiply by what stands in front of the integral."),
            rule="together",
            proof=proof,
        )
    ]
    if value != together:
        lines.append(
            line(value, reason=say("Work out the numbers."), rule="exact-value", proof=proof, kind="step")
        )
    return WorkedApplication(
        set_up=plan,
        parts=tuple(parts),
        lines=() if together == parts[0].value else tuple(lines),
        value=value,
        enclosure=enclosure,
        proof=proof,
    )


def _signed(sign: int, value: Expression) -> Expression:
    return value if sign > 0 else Negate(value)


def _enclosure(plan: SetUp, parts: list[DefiniteSolution]) -> tuple[Fraction, Fraction]:
    front = enclose(plan.front, at={}, digits=_DIGITS)
    if front is None or front.lower <= 0:
        raise ApplicationRefused("the factor in front is not a positive number")
    low = high = fraction(0, 1)
    for part, worked in zip(plan.parts, parts, strict=True):
        ends = (part.sign * worked.enclosure.lower, part.sign * worked.enclosure.upper)
        low, high = low + min(ends), high + max(ends)
    return min(low * front.lower, low * front.upper), max(high * front.lower, high * front.upper)


def _as_a_whole(plan: SetUp) -> Iterator[tuple[Fraction, Fraction]]:
    """Bounds that know nothing of where the curves cross: of the modulus, all at once."""
    if len(plan.parts) > 1:
        one = plan.one_integral
        assert one.lower is not None
        assert one.upper is not None
        found = integrate_rigorously(one.integrand, one.variable, one.lower, one.upper)
        if isinstance(found, Refused):
            raise ApplicationRefused(found.reason)
        yield found.lower, found.upper


def application_slips(worked: WorkedApplication) -> tuple[Wrong, ...]:
    """The slips of the set-up, then those of the integrals; their values are exact.

    A value is None where the slip cannot occur, or where it is not certain to be wrong.
    """
    plan = worked.set_up
    own = tuple(
        Wrong(slip=one.slip, sentence=one.sentence, value=partial(_value, worked, one)) for one in plan.wrong
    )
    if len(worked.parts) > 1:
        solution = worked.parts[0].solution
        of_technique = (
            Wrong(slip=slip.identifier, sentence=slip.sentence, value=partial(_in_every_part, worked, slip))
            for slip in technique(solution.technique).slips
        )
        return (*own, *of_technique)
    inside = (
        Wrong(slip=slip.slip, sentence=slip.sentence, value=partial(_carried, worked, slip.value))
        for slip in definite_value_slips(worked.parts[0])
    )
    return (*own, *inside)


def double_slips(worked: WorkedApplication) -> tuple[tuple[Wrong, Wrong], ...]:
    """What stands in front forgotten, and a slip with the integral besides: pairs whose value the second one has."""
    forgotten = next((one for one in worked.set_up.wrong if one.slip in _FRONT_FORGOTTEN), None)
    if forgotten is None or len(worked.parts) > 1:
        return ()
    return tuple(
        (
            forgotten,
            Wrong(slip=slip.slip, sentence=slip.sentence, value=partial(_without_front, worked, slip.value)),
        )
        for slip in definite_value_slips(worked.parts[0])
    )


def _without_front(worked: WorkedApplication, value: Callable[[], Expression | None]) -> Expression | None:
    found = value()
    return None if found is None else _different(worked, found)


def _value(worked: WorkedApplication, one: Wrong) -> Expression | None:
    written = one.value()
    return None if written is None else _different(worked, written)


def _carried(worked: WorkedApplication, value: Callable[[], Expression | None]) -> Expression | None:
    found = value()
    return None if found is None else _different(worked, in_front(worked.set_up.front, found))


def _in_every_part(worked: WorkedApplication, slip: Slip) -> Expression | None:
    """What comes of a wrong antiderivative, put between the limits of each part."""
    wrong = slip.answer(worked.parts[0].solution)
    if wrong is None:
        return None
    written = (
        _signed(part.sign, one.written(wrong))
        for part, one in zip(worked.set_up.parts, worked.parts, strict=True)
    )
    return _different(worked, in_front(worked.set_up.front, sum_of(*written)))


def _different(worked: WorkedApplication, written: Expression) -> Expression | None:
    """The exact value of a wrong answer; None when it has none, or when it is not certain to be wrong."""
    try:
        value = exact_value(written, budget=PATIENT)
    except Undefined:
        return None
    if value == Integer(0) and worked.set_up.asked.kind not in _MAY_BE_NOUGHT:
        return None  # which nobody takes for a size
    bounds = enclose(value, at={})
    lower, upper = worked.enclosure
    if bounds is None or not (bounds.upper < lower or bounds.lower > upper):
        return None
    return value
