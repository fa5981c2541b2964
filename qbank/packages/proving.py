"""Keys proved again: nothing is known here but the question that students see and what the package scores.

An antiderivative is proved by differentiation, and a wrong one refuted at a point. The value of a definite integral is
held against a rigorous enclosure from quadrature, which knows of no antiderivative: an option outside it is refuted, and
accepted bounds around it are proved; a keyed option inside it agrees with it to the digits that the enclosure has.
"""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from fractions import Fraction
from typing import assert_never

from qbank.maths.deciding import Enclosure, decide_antiderivative, derivative_at, enclose
from qbank.maths.expression import Expression
from qbank.maths.quadrature import Enclosed, integrate_rigorously
from qbank.maths.verdict import Proved, Refuted
from qbank.packages.evaluations import limit_between, value_through
from qbank.packages.finding import Finding
from qbank.packages.forms import prove_form
from qbank.packages.matched import prove_matched
from qbank.packages.question import (
    Accepted,
    AskedTask,
    Condition,
    Form,
    Matched,
    ModelAnswer,
    Options,
    Question,
    Several,
    SoughtLimit,
    Spelled,
)
from qbank.packages.spelled import spelling_problems
from qbank.packages.tasks import prove_task

__all__ = ["prove"]

_DIGITS = 30
#: an enclosure of a value must be this narrow, for its size, to say that two values agree
_NARROW = Fraction(1, 10**15)
#: how near a stated value must be, for its size, whatever number of figures it has
_CLOSE = Fraction(1, 10**11)
#: how far from the keyed number a number may be and still score, in units of its last figure
_UNITS = 2


def prove(question: Question) -> Finding:
    """Prove the key of a question and refute its wrong options.

    >>> from qbank.maths.expression import Integral, Symbol, cos, sin
    >>> x = Symbol("x")
    >>> answers = ModelAnswer(answer=sin(x))
    >>> prove(Question(identifier="one", integral=Integral(cos(x), x), answers=answers)).proved
    1
    >>> prove(Question(identifier="one", integral=Integral(sin(x), x), answers=answers)).problems
    ('the answer given is wrong: at x = 58/101 its derivative is 0.839596, not 0.543211',)
    """
    if isinstance(question.condition, SoughtLimit):
        found = _limit(question, question.condition)
    elif question.integral.lower is not None:
        found = _definite(question)
    elif question.condition is not None:
        found = _evaluation(question, question.condition)
    else:
        found = _indefinite(question)
    return Finding(
        proved=found.proved,
        agreeing=found.agreeing,
        refuted=found.refuted,
        problems=(*found.problems, *_wrong_values(question)),
    )


def _indefinite(question: Question) -> Finding:
    match question.answers:
        case Options(offered=offered) | Several(offered=offered):
            listed = [(f"option {one.identifier}", one.answer, one.right) for one in offered]
        case ModelAnswer(answer=answer):
            listed = [("the answer given", answer, True)]
        case Form():
            return prove_form(question.answers, question.integral)
        case Matched():
            return prove_matched(question.answers)
        case AskedTask():
            return prove_task(question.answers, question.integral)
        case Accepted() | Spelled():
            return Finding(problems=("an antiderivative cannot be answered by a number",))
        case _:
            assert_never(question.answers)
    tally = _Tally()
    integral = question.integral
    for name, answer, right in listed:
        verdict = decide_antiderivative(answer, integral.integrand, integral.variable)
        match verdict:
            case Proved():
                tally.count(name, right=right, is_right=True)
            case Refuted(witness=at):
                why = f"at {integral.variable.name} = {at.point} its derivative is {at.left}, not {at.right}"
                tally.count(name, right=right, is_right=False, why=why)
            case _:
                tally.problems.append(f"{name} could be neither proved nor refuted: {verdict.reason}")
    return tally.finding()


class _Tally:
    """Counts, and what is wrong, on the way through the answers of a question."""

    def __init__(self, *, exactly: bool = True) -> None:
        self._exactly = exactly
        self._right = self._wrong = 0
        self.problems: list[str] = []

    def count(self, name: str, *, right: bool, is_right: bool, why: str = "") -> None:
        if right and is_right:
            self._right += 1
        elif not right and not is_right:
            self._wrong += 1
        elif right:
            self.problems.append(f"{name} is wrong: {why}")
        else:
            self.problems.append(f"{name} is right, but scores nothing")

    def finding(self) -> Finding:
        return Finding(
            proved=self._right if self._exactly else 0,
            agreeing=0 if self._exactly else self._right,
            refuted=self._wrong,
            problems=tuple(self.problems),
        )


def _short(decimal: str) -> str:
    return decimal if len(decimal) <= 14 else decimal[:11] + "..."


def _definite(question: Question) -> Finding:
    integral = question.integral
    assert integral.lower is not None
    assert integral.upper is not None
    value = integrate_rigorously(
        integral.integrand, integral.variable, integral.lower, integral.upper, digits=_DIGITS
    )
    if not isinstance(value, Enclosed):
        return Finding(problems=(f"the integral has no value: {value.reason}",))
    match question.answers:
        case Options(offered=offered) | Several(offered=offered):
            tally = _Tally(exactly=False)
            for one in offered:
                _against(tally, f"option {one.identifier}", one.answer, value, right=one.right)
            return tally.finding()
        case ModelAnswer(answer=answer):
            tally = _Tally(exactly=False)
            _against(tally, "the answer given", answer, value, right=True)
            return tally.finding()
        case Accepted() | Spelled():
            return _typed(question.answers, value)
        case Matched():
            return Finding(problems=("values of definite integrals are not matched",))
        case AskedTask():
            return Finding(problems=("a task about working is one about an antiderivative",))
        case Form():
            return Finding(problems=("the value of a definite integral has no coefficients",))
        case _:
            assert_never(question.answers)


def _limit(question: Question, sought: SoughtLimit) -> Finding:
    match question.answers:
        case Accepted(lower=lower, upper=upper, keyed=keyed):
            if not lower <= Fraction(keyed) <= upper:
                return Finding(problems=("the keyed value does not score",))
            accepted = (lower, upper)
        case Spelled(right=right) if right:
            accepted = (min(right), max(right))
            if accepted[0] == accepted[1]:
                accepted = (accepted[0] - _NARROW, accepted[1] + _NARROW)
        case _:
            return Finding(problems=("a limit is answered by a number",))
    problem = limit_between(question.integral, sought, accepted)
    return Finding(problems=(problem,)) if problem else Finding(proved=1)


def _evaluation(question: Question, condition: Condition) -> Finding:
    if not isinstance(question.answers, Accepted | Spelled):
        return Finding(problems=("the value of an antiderivative is answered by a number",))
    value = value_through(question.integral, condition, _DIGITS)
    if not isinstance(value, Enclosed):
        return Finding(problems=(f"there is no value: {value.reason}",))
    return _typed(question.answers, value)


def _against(tally: _Tally, name: str, answer: Expression, value: Enclosed, *, right: bool) -> None:
    """An exact value against the enclosure of the integral."""
    found = None if answer.symbols() else enclose(answer, at={}, digits=_DIGITS)
    if found is None:
        tally.problems.append(f"{name} is not a number")
    elif found.upper < value.lower or value.upper < found.lower:
        tally.count(name, right=right, is_right=False, why=f"the integral is {_short(value.digits_text)}")
    elif _spread(found, value) > _NARROW:
        tally.problems.append(f"{name} could be neither confirmed nor refuted: too few digits")
    else:
        tally.count(name, right=right, is_right=True)


def _spread(one: Enclosure, other: Enclosed) -> Fraction:
    """How far two values in these enclosures can be apart, for their size."""
    apart = max(one.upper, other.upper) - min(one.lower, other.lower)
    return apart / max(Fraction(1), abs(one.upper))


def _typed(answers: Accepted | Spelled, value: Enclosed) -> Finding:
    """Numbers to be typed against the enclosure of the value."""
    if isinstance(answers, Accepted):
        return _bounds(answers, value)
    problems = spelling_problems(answers, value)
    return Finding(proved=0 if problems else 1, problems=problems)


def _bounds(accepted: Accepted, value: Enclosed) -> Finding:
    problems: list[str] = []
    if not accepted.lower <= value.lower <= value.upper <= accepted.upper:
        problems.append(f"the value {_short(value.digits_text)} is not among the numbers that score")
    if accepted.exact is not None:
        tally = _Tally()
        _against(tally, "the exact value", accepted.exact, value, right=True)
        problems += tally.problems
    unit = _last_figure(accepted.keyed)
    if unit is None:
        problems.append("the keyed value is not a decimal")
    else:
        keyed = Fraction(accepted.keyed)
        if not accepted.lower <= keyed <= accepted.upper:
            problems.append("the keyed value does not score")
        if max(accepted.upper - keyed, keyed - accepted.lower) > _UNITS * unit:
            problems.append("numbers score that are far from the keyed value")
    return Finding(proved=0 if problems else 1, problems=tuple(problems))


def _last_figure(text: str) -> Fraction | None:
    """The unit of the last figure of a decimal; the zeros at the end of a whole number are not counted as figures."""
    try:
        number = Decimal(text)
    except InvalidOperation:
        return None
    if not number.is_finite() or len(text) > 40 or abs(number.adjusted()) > 400:
        return None
    exponent = number.as_tuple().exponent
    if exponent == 0:
        exponent = number.normalize().as_tuple().exponent
    return Fraction(10) ** int(exponent)


def _wrong_values(question: Question) -> tuple[str, ...]:
    """Stated values that are not those of their expression."""
    wrong = []
    for stated in question.stated:
        variable = question.integral.variable
        unit, at = _last_figure(stated.decimal), {variable: stated.at}
        found = (
            derivative_at(stated.of, variable, at, _DIGITS)
            if stated.slope
            else enclose(stated.of, at=at, digits=_DIGITS)
        )
        if unit is None or found is None or not _near(stated.decimal, found, unit):
            wrong.append(f"{stated.decimal} is not the value at {variable.name} = {stated.at}")
    return tuple(wrong)


def _near(decimal: str, found: Enclosure, unit: Fraction) -> bool:
    """Whether a decimal is a value rounded; zeros at its end may have been dropped, so it is near in any case."""
    stated = Fraction(decimal)
    margin = min(unit / 2, _CLOSE * max(Fraction(1), abs(stated)))
    return found.upper - margin <= stated <= found.lower + margin
