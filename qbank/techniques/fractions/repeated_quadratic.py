"""A linear numerator over a power of a quadratic without zeros: a multiple of the derivative, and a constant.

(2x + 3)/(x^2 + 2x + 5)^2    (2x + 2)/(x^2 + 2x + 5)^2 + 1/(x^2 + 2x + 5)^2
                             the power rule               x + 1 = 2 tan t
"""

from __future__ import annotations

from qbank.maths.constant_factor import before_integral, number
from qbank.maths.expression import Expression, Integer, Integral, Quotient, Symbol, fraction, sum_of
from qbank.maths.factors import factored, power_tree
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.messages import say
from qbank.techniques.carrying import carry, multiplied
from qbank.techniques.circular import even_powers
from qbank.techniques.quadratics.completed_denominator import multiple_of
from qbank.techniques.quadratics.over_quadratic import bracket_times, derivative
from qbank.techniques.substituting import substitution
from qbank.techniques.trigonometric.trigonometric_substitution import trigonometric_substitution
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["repeated_quadratic"]

#: 1 over a power of a quadratic is an even power of the cosine in t
_TRIGONOMETRIC = trigonometric_substitution(even_powers.TECHNIQUE.work)


def repeated_quadratic(part: Expression, variable: Symbol) -> WorkedSolution | None:
    """The working of `line/quadratic^n` with n > 1, or None for anything else.

    >>> x = Symbol("x")
    >>> found = repeated_quadratic(x / (x**2 + 1) ** 2, x)
    >>> found.antiderivative == -(1 / (2 * (x**2 + 1)))
    True
    """
    below = [(base, -n) for base, n in factored(part).powers if n < -1]
    if len(below) != 1 or not isinstance(part, Quotient):
        return None
    base, power = below[0]
    under, line = as_polynomial(base, variable), as_polynomial(part.numerator, variable)
    if under is None or len(under) != 3 or not line or len(line) > 2:
        return None
    multiple, rest = multiple_of((*line, fraction(0, 1))[:2], derivative(under))
    if not multiple:
        return _TRIGONOMETRIC.work(part, variable)
    if not rest:
        return substitution.TECHNIQUE.work(part, variable)
    slope, raised = polynomial_tree(derivative(under), variable), power_tree(base, power)
    first = substitution.TECHNIQUE.work(Quotient(slope, raised), variable)
    second = _TRIGONOMETRIC.work(Quotient(Integer(1), raised), variable)
    if first is None or second is None:
        return None
    working = Working("partial-fractions", part, variable)
    split = bracket_times(multiple, slope, rest)
    if split != part.numerator:
        said = say("Write the numerator as a multiple of the derivative of the quadratic, and a constant.")
        working.aside(part.numerator, split, "split-numerator", said)
    fronts = number(multiple), number(rest)
    waiting = before_integral(fronts[1], Integral(second.integrand, variable))
    start = before_integral(fronts[0], Integral(first.integrand, variable))
    working.step(sum_of(start, waiting), "split-numerator", say("Split into two integrals."))
    carry(working, first.lines, lambda line: sum_of(multiplied(fronts[0], line), waiting))
    done = multiplied(fronts[0], first.antiderivative)
    carry(working, second.lines, lambda line: sum_of(done, multiplied(fronts[1], line)))
    return working.finish()
