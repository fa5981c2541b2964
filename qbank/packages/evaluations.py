"""Questions for the value of an antiderivative, read back from what students see, and the value found again.

    Find [integral] with the constant for which it is [q] at [x = p]. Give its value at [x = r]

The value is q and the rigorous integral from p to r, through one piece of the domain: no antiderivative is needed.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from qbank.maths.covering import defined_between
from qbank.maths.deciding import enclose
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Expression, Integral, Symbol, rational
from qbank.maths.moduli import split_at_zeros
from qbank.maths.quadrature import Enclosed, Refused, integrate_rigorously
from qbank.packages.question import Condition, QuestionError, SoughtLimit

__all__ = ["asked_integral", "condition_of", "limit_between", "value_through"]


def asked_integral(shown: Sequence[Statement]) -> Integral:
    """The one integral in what a student reads before answering.

    Args:
        shown: all formulas there, in their order.

    Raises:
        QuestionError: there is none, or more than one.
    """
    found = [statement for statement in shown if isinstance(statement, Integral)]
    if len(found) != 1:
        raise QuestionError(f"the question shows {len(found)} integrals, and should show one")
    return found[0]


def condition_of(integral: Integral, shown: Sequence[Statement]) -> Condition | SoughtLimit | None:
    """Which antiderivative is evaluated, and where, or which limit is sought; None where the question says neither.

    Args:
        integral: the integral asked for.
        shown: all formulas of the question, in their order.

    Raises:
        QuestionError: there are equations, but not as in this kind of question.

    >>> from qbank.maths.expression import Integer, Symbol
    >>> x = Symbol("x")
    >>> shown = [Integral(2 * x, x), Integer(5), Equation(x, Integer(1)), Equation(x, Integer(3))]
    >>> condition_of(shown[0], shown).given
    Integer(value=5)
    >>> condition_of(shown[0], shown[:1]) is None
    True
    """
    if isinstance(integral.upper, Symbol):
        return _sought(integral, shown)
    places = [statement for statement in shown if isinstance(statement, Equation)]
    if not places:
        return None
    first = shown.index(places[0])
    given = shown[first - 1] if first else None
    if (
        len(places) != 2
        or any(place.left != integral.variable for place in places)
        or first - 2 != shown.index(integral)
        or not isinstance(given, Expression)
    ):
        raise QuestionError(
            "the question does not say which antiderivative is meant, and where its value is wanted"
        )
    return Condition(point=places[0].right, given=given, at=places[1].right)


def _sought(integral: Integral, shown: Sequence[Statement]) -> SoughtLimit:
    """`a`, its bounds, the integral up to a, its value, and `a` again."""
    match tuple(shown):
        case (
            Symbol() as letter,
            Expression() as low,
            Expression() as high,
            Integral(),
            Expression() as value,
            last,
        ) if letter == last == integral.upper:
            return SoughtLimit(lower=low, upper=high, value=value)
        case _:
            raise QuestionError("the question does not say which limit is sought, and between which numbers")


def limit_between(integral: Integral, sought: SoughtLimit, accepted: tuple[Fraction, Fraction]) -> str:
    """Why a limit is not certain to be one of the numbers accepted, and the only one; empty when it is.

    Between the bounds of the question the integrand keeps its sign, so that the integral only grows or only falls; at
    the least and the greatest number accepted it lies on either side of the value.
    """
    assert integral.lower is not None
    bounds = [enclose(part, at={}) if not part.symbols() else None for part in (sought.lower, sought.upper)]
    value = None if sought.value.symbols() else enclose(sought.value, at={}, digits=30)
    if bounds[0] is None or bounds[1] is None or value is None:
        return "a bound or the value given is not a number"
    if not bounds[0].upper <= accepted[0] <= accepted[1] <= bounds[1].lower:
        return "numbers score that do not lie between the bounds of the question"
    split = split_at_zeros(integral.integrand, integral.variable, sought.lower, sought.upper)
    if split is None or split.places:
        return "the integrand is not certain to keep its sign between the bounds"
    found = [
        integrate_rigorously(integral.integrand, integral.variable, integral.lower, rational(end))
        for end in accepted
    ]
    before, behind = found if split.signs[0] > 0 else reversed(found)
    if isinstance(before, Refused) or isinstance(behind, Refused):
        return "the integral has no value"
    crossed = before.upper < value.lower and value.upper < behind.lower
    return "" if crossed else "the number sought is not among those that score"


def value_through(integral: Integral, condition: Condition, digits: int) -> Enclosed | Refused:
    """Rigorous bounds of the value asked for, or the reason why there are none.

    Args:
        integral: the antiderivatives.
        condition: which of them, and where.
        digits: significant digits that are wanted of the integral.
    """
    parts = (condition.point, condition.given, condition.at)
    bounds = [None if part.symbols() else enclose(part, at={}, digits=digits) for part in parts]
    point, given, at = bounds
    if point is None or given is None or at is None:
        return Refused(reason="a place or the value given is not a number")
    lower, upper = min(point.lower, at.lower), max(point.upper, at.upper)
    if not defined_between(integral.integrand, integral.variable, lower, upper):
        return Refused(reason="the places are not certain to lie in one piece of the domain")
    change = integrate_rigorously(
        integral.integrand, integral.variable, condition.point, condition.at, digits=digits
    )
    if isinstance(change, Refused):
        return change
    low, high = given.lower + change.lower, given.upper + change.upper
    return Enclosed(lower=low, upper=high, digits_text=f"{float((low + high) / 2):.12g}")
