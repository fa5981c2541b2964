"""Definite integrals: the limits put into a proved antiderivative, and the value checked by rigorous quadrature.

    WorkedSolution + limits -> [F]  -> F(b) - F(a) -> exact value -> inside the enclosure?  DefiniteSolution
                                                                     else                   DefiniteRefused

The two sides know nothing of each other: the value comes from the antiderivative, the enclosure from the integrand
alone. So a pole between the limits, or a jump of the antiderivative there, cannot slip through.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial

from qbank.maths.clock import PATIENT
from qbank.maths.deciding import decide_equal, exact_value
from qbank.maths.enclosing import enclose
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    INFINITY,
    PI,
    Evaluated,
    Expression,
    Integer,
    Integral,
    Negate,
    Quotient,
    Symbol,
    difference,
    sum_of,
)
from qbank.maths.forward import Undefined
from qbank.maths.quadrature import Enclosed, Refused, integrate_rigorously
from qbank.maths.tidying import scaled, split_coefficient, tidy
from qbank.maths.verdict import Proof, Refuted, Unsettled
from qbank.messages import say
from qbank.techniques.planner import solve, technique
from qbank.techniques.technique import Slip, SlipAnswer
from qbank.techniques.working import Line, UnprovedLineError, WorkedSolution

__all__ = [
    "LIMITS_NOT_CHANGED",
    "DefiniteRefused",
    "DefiniteSolution",
    "ValueSlip",
    "at_limits",
    "definite_slips",
    "definite_value_slips",
    "limit_slips",
    "pi_over",
    "proved_equal",
    "slips_at",
    "value_of_wrong",
    "work_definite",
    "wrong_value",
]

#: digits of the value when it is held against the enclosure, which has fewer
_DIGITS = 40


class DefiniteRefused(Exception):  # noqa: N818 - a refusal is an answer, not an error
    """There is no value that both ways agree on.

    Attributes:
        reason: why, in one sentence.
    """

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


@dataclass(frozen=True, slots=True, kw_only=True)
class DefiniteSolution:
    """The value of a definite integral with the working that leads to it.

    Attributes:
        solution: the worked antiderivative.
        lower: the lower limit.
        upper: the upper limit.
        lines: what follows the antiderivative, every line proved: the bracket with its limits, the values at the
            limits as written, with their numbers worked out, and the exact value.
        value: the exact value.
        enclosure: rigorous bounds of the integral, found without the antiderivative; the value lies inside.
        proof: that the value is that of the antiderivative between the limits.
    """

    solution: WorkedSolution
    lower: Expression
    upper: Expression
    lines: tuple[Line, ...]
    value: Expression
    enclosure: Enclosed
    proof: Proof

    @property
    def integral(self) -> Integral:
        """What was asked."""
        return Integral(self.solution.integrand, self.solution.variable, self.lower, self.upper)

    def written(self, antiderivative: Expression) -> Expression:
        """An antiderivative, perhaps a wrong one, between the limits, with nothing worked out."""
        return at_limits(antiderivative, self.solution.variable, self.lower, self.upper)


def work_definite(
    integrand: Expression,
    variable: Symbol,
    lower: Expression,
    upper: Expression,
    *,
    solution: WorkedSolution | None = None,
) -> DefiniteSolution:
    """Evaluate a definite integral.

    Args:
        integrand: a function of the variable alone.
        variable: the variable of integration.
        lower: the lower limit, a constant expression.
        upper: the upper limit, likewise; it may be the smaller one.
        solution: the worked antiderivative, where it is known already.

    Raises:
        DefiniteRefused: no technique fits, a limit is infinite, the antiderivative has no value at a limit, no proof
            was found within the time, or quadrature refuses the integral or contradicts the value.

    >>> from qbank.maths.expression import Integer, PI
    >>> x = Symbol("x")
    >>> work_definite(1 / (x**2 + 4), x, Integer(0), Integer(2)).value == PI / 8
    True
    """
    letters = integrand.symbols() - {variable} | lower.symbols() | upper.symbols()
    if letters:
        raise DefiniteRefused("the integral has letters without a value")
    if INFINITY in (lower, upper) or Negate(INFINITY) in (lower, upper):
        raise DefiniteRefused("limits at infinity are not worked")
    worked = solution or solve(integrand, variable)
    if worked is None:
        raise DefiniteRefused("no technique fits the integrand")
    enclosure = integrate_rigorously(integrand, variable, lower, upper)
    if isinstance(enclosure, Refused):
        raise DefiniteRefused(enclosure.reason)
    written = at_limits(worked.antiderivative, variable, lower, upper)
    try:
        value = exact_value(written, budget=PATIENT)
    except Undefined:
        raise DefiniteRefused("the antiderivative has no value at a limit") from None
    if not _agrees(value, enclosure):
        raise DefiniteRefused(
            "the antiderivative and quadrature disagree: there is a jump or a pole between the limits"
        )
    lines = tuple(_lines(worked, lower, upper, value))
    return DefiniteSolution(
        solution=worked,
        lower=lower,
        upper=upper,
        lines=lines,
        value=value,
        enclosure=enclosure,
        proof=lines[-1].proof,
    )


def definite_slips(solution: DefiniteSolution) -> tuple[SlipAnswer, ...]:
    """What slips make of a definite integral, each with its exact wrong value.

    The slips of the technique come first, then those with the limits. A value is left out unless it is real and
    rigorously outside the enclosure of the integral.

    Args:
        solution: the integral, evaluated.

    >>> from qbank.maths.expression import Integer, PI
    >>> x = Symbol("x")
    >>> slips = definite_slips(work_definite(1 / (x**2 + 4), x, Integer(0), Integer(2)))
    >>> next(s.answer for s in slips if s.slip == "limits-swapped") == -(PI / 8)
    True
    """
    found = ((slip, slip.value()) for slip in definite_value_slips(solution))
    return tuple(
        SlipAnswer(slip=slip.slip, sentence=slip.sentence, answer=value)
        for slip, value in found
        if value is not None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ValueSlip:
    """A slip in a definite integral, not yet run to its value.

    Attributes:
        slip: its identifier.
        sentence: what to tell the student.
        value: runs it: the exact wrong value, or None where there is none or it is not certain to be wrong.
    """

    slip: str
    sentence: str
    value: Callable[[], Expression | None]


def definite_value_slips(solution: DefiniteSolution) -> tuple[ValueSlip, ...]:
    """The slips of `definite_slips`, each to be run when its value is wanted."""
    worked = solution.solution
    of_technique = (
        ValueSlip(slip=s.identifier, sentence=s.sentence, value=partial(_technique_value, s, solution))
        for s in technique(worked.technique).slips
    )
    of_limits = (
        ValueSlip(slip=s.slip, sentence=s.sentence, value=partial(wrong_value, s.answer, solution.enclosure))
        for s in (*_limits_not_changed(solution), *limit_slips(solution, worked.antiderivative))
    )
    return (*of_technique, *of_limits)


def at_limits(
    antiderivative: Expression, variable: Symbol, lower: Expression, upper: Expression
) -> Expression:
    """F(b) - F(a) as it is written, the numbers put in and nothing worked out.

    >>> x = Symbol("x")
    >>> at_limits(2 * x, x, Integer(1), Integer(3)) == 2 * Integer(3) - 2 * Integer(1)
    True
    """
    return difference(
        antiderivative.substitute({variable: upper}), antiderivative.substitute({variable: lower})
    )


def _agrees(value: Expression, enclosure: Enclosed) -> bool:
    bounds = enclose(value, at={}, digits=_DIGITS)
    return bounds is not None and bounds.upper >= enclosure.lower and bounds.lower <= enclosure.upper


def _lines(worked: WorkedSolution, lower: Expression, upper: Expression, value: Expression) -> Iterator[Line]:
    """The lines after the antiderivative, those that would repeat the one before left out."""
    bracket = Evaluated(worked.antiderivative, worked.variable, lower, upper)
    written = at_limits(worked.antiderivative, worked.variable, lower, upper)
    subtracted = proved_equal(written, bracket, worked.variable)
    # the bracket says in short what the difference says at length: one identity, one proof
    for line, reason in (
        (bracket, say("Put the antiderivative between the limits.")),
        (written, say("Upper limit first, then subtract the value at the lower limit.")),
    ):
        yield Line(kind="step", statements=(line,), rule="limits", reason=reason, proof=subtracted)
    last = written
    for line, rule, reason in (
        (pi_over(tidy(written)), "tidy", say("Work out the numbers.")),
        (value, "exact-value", say("Write the exact value.")),
    ):
        if line != last:
            proof = proved_equal(line, bracket, worked.variable)
            yield Line(kind="step", statements=(line,), rule=rule, reason=reason, proof=proof)
        last = line


def proved_equal(line: Expression, bracket: Expression, variable: Symbol) -> Proof:
    """The proof that two constants are equal.

    Raises:
        UnprovedLineError: they are proved different.
        DefiniteRefused: neither was found within the time.
    """
    verdict = decide_equal(line, bracket, variable)
    if isinstance(verdict, Refuted):
        raise UnprovedLineError(line, verdict)
    if isinstance(verdict, Unsettled):
        raise DefiniteRefused("the exact value could not be proved within the time")
    return verdict.proof


def pi_over(tree: Expression) -> Expression:
    """Fractions of pi with one fraction line: `pi/4` and `7pi/96` for 1/4 and 7/96 times pi.

    >>> pi_over(Quotient(Integer(1), Integer(4)) * PI) == PI / 4
    True
    """
    size, body = split_coefficient(tree)
    if body == PI and size.denominator > 1:
        over = Quotient(scaled(Fraction(abs(size.numerator)), PI), Integer(size.denominator))
        return Negate(over) if size < 0 else over
    return tree.rebuild(pi_over)


# What students do with the limits (common practice: from the marking of scripts, not from a published table).


def _technique_value(slip: Slip, solution: DefiniteSolution) -> Expression | None:
    """The wrong antiderivative of a slip between the limits."""
    wrong = slip.answer(solution.solution)
    return None if wrong is None else value_of_wrong(solution, solution.written(wrong))


def value_of_wrong(solution: DefiniteSolution, written: Expression) -> Expression | None:
    """The exact value of a wrong answer, or None when there is none or it is not certain to be wrong.

    Args:
        solution: the integral, evaluated.
        written: the wrong answer as written, a constant.
    """
    return wrong_value(written, solution.enclosure)


#: the limits left as they were, in whatever way the new letter came in
LIMITS_NOT_CHANGED = (
    "limits-not-changed",
    say("The limits belong to the old letter: change them as well, or go back before putting them in."),
)


def _limits_not_changed(solution: DefiniteSolution) -> Iterator[SlipAnswer]:
    in_letter = _in_new_letter(solution.solution)
    if in_letter is not None:
        slip, sentence = LIMITS_NOT_CHANGED
        answer = at_limits(*in_letter, solution.lower, solution.upper)
        yield SlipAnswer(slip=slip, sentence=sentence, answer=answer)


def limit_slips(solution: DefiniteSolution, antiderivative: Expression) -> Iterator[SlipAnswer]:
    """What students make of an antiderivative, right or wrong, and the limits; as written, nothing worked out.

    Args:
        solution: the integral, evaluated.
        antiderivative: what the limits are put into.
    """
    return slips_at(antiderivative, solution.solution.variable, solution.lower, solution.upper)


def slips_at(
    antiderivative: Expression, variable: Symbol, lower: Expression, upper: Expression
) -> Iterator[SlipAnswer]:
    """The same for any limits.

    >>> x = Symbol("x")
    >>> [slip.slip for slip in slips_at(x**2, x, Integer(1), Integer(2))]
    ['lower-limit-ignored', 'limits-swapped', 'value-at-lower-limit-added']
    """
    at_upper, at_lower = (antiderivative.substitute({variable: end}) for end in (upper, lower))
    yield SlipAnswer(
        slip="lower-limit-ignored",
        sentence=say("The value at the lower limit is subtracted, and it is not always zero."),
        answer=at_upper,
    )
    yield SlipAnswer(
        slip="limits-swapped",
        sentence=say("Put the upper limit in first, then subtract the value at the lower limit."),
        answer=difference(at_lower, at_upper),
    )
    yield SlipAnswer(
        slip="value-at-lower-limit-added",
        sentence=say("The value at the lower limit is subtracted from that at the upper limit, not added."),
        answer=sum_of(at_upper, at_lower),
    )


def _in_new_letter(worked: WorkedSolution) -> tuple[Expression, Symbol] | None:
    """The antiderivative in the letter of the substitution, just before that letter is replaced again."""
    letters = {
        equation.left
        for line in worked.lines
        if line.kind == "let"
        for equation in line.statements
        if isinstance(equation, Equation)
    }
    steps = (line.statements[0] for line in reversed(worked.lines) if line.kind == "step")
    for tree in steps:
        if not isinstance(tree, Expression) or tree.holds(Integral):
            return None
        symbols = tuple(tree.symbols())
        if len(symbols) == 1 and symbols[0] in letters:
            return tree, symbols[0]
    return None


def wrong_value(answer: Expression, enclosure: Enclosed) -> Expression | None:
    """The exact value of a wrong answer, or None when there is none or when it is not certain to be wrong.

    Args:
        answer: the answer as written, a constant.
        enclosure: rigorous bounds of the right value.
    """
    try:
        value = exact_value(answer, budget=PATIENT)
    except Undefined:
        return None
    bounds = enclose(value, at={})
    if bounds is None or not (bounds.upper < enclosure.lower or bounds.lower > enclosure.upper):
        return None
    return value
