"""Integrands with a quadratic below the line, as they were written, and how their working is set out.

front * over / under^power          power 1 (a fraction) or 1/2 (below a root)
over = multiple * under' + rest     for a linear numerator
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import gcd, lcm

from qbank.maths.expression import (
    Expression,
    Integer,
    Integral,
    Negate,
    Product,
    Quotient,
    Sum,
    Symbol,
    fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.factors import factored, power_tree
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.tidying import scaled
from qbank.messages import say, together
from qbank.techniques.quadratics.completed_square import CompletedSquare
from qbank.techniques.working import Working

__all__ = [
    "Board",
    "Coefficients",
    "OverQuadratic",
    "antiderivative_terms",
    "bracket_times",
    "derivative",
    "over_quadratic",
]

Coefficients = tuple[Fraction, ...]

#: polynomials of a higher degree are nobody's exercise and are declined
_DEGREE_LIMIT = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class OverQuadratic:
    """`front * over / under^power`.

    Attributes:
        letter: the variable.
        front: the number in front; a constant numerator has gone into it.
        over: coefficients of the numerator, lowest first; `(1,)` when it is constant.
        over_tree: the numerator as it was written, without the number in front.
        under: coefficients of the quadratic, lowest first (of another polynomial before cancelling).
        under_tree: the quadratic as it was written.
        power: 1, or 1/2 when the quadratic is below a root.
    """

    letter: Symbol
    front: Fraction
    over: Coefficients
    over_tree: Expression
    under: Coefficients
    under_tree: Expression
    power: Fraction

    def over_integrated(self) -> tuple[Fraction, Expression]:
        """The integral of the numerator alone, as a number times a polynomial with whole coefficients."""
        raised = tuple(c / degree for degree, c in enumerate(self.over, start=1))
        below = lcm(*(c.denominator for c in raised))
        whole = tuple(int(c * below) for c in raised)
        return Fraction(gcd(*whole), below), polynomial_tree(
            (0, *(c // gcd(*whole) for c in whole)), self.letter
        )

    def square_reason(self, square: CompletedSquare) -> str:
        """What a teacher says when the quadratic is written as a sum or difference of two squares."""
        if square.number > 0:
            kind = say("This is a sum of two squares.")
        else:
            kind = say("This is a difference of two squares.")
        take_out = abs(square.factor) != 1
        if isinstance(self.under_tree, Product):
            return together(say("Multiply out and complete the square."), kind)
        if self.under[1] and self.under_tree == polynomial_tree(self.under, self.letter):
            if take_out:
                return together(say("Take out the number in front and complete the square."), kind)
            return together(say("Complete the square."), kind)
        return together(say("Take out the number in front."), kind) if take_out else kind

    @property
    def line(self) -> tuple[Fraction, Fraction]:
        """Constant and slope of a numerator that is at most linear."""
        return self.over[0], self.over[1] if len(self.over) > 1 else fraction(0, 1)

    @property
    def discriminant(self) -> Fraction:
        """b^2 - 4ac of the quadratic."""
        c, b, a = self.under
        return b * b - 4 * a * c

    @property
    def is_constant_above(self) -> bool:
        """Whether the numerator is constant (it is 1 then, the number in front)."""
        return len(self.over) == 1

    @property
    def below(self) -> Expression:
        """The quadratic with its root, as it stands below the line."""
        return power_tree(self.under_tree, self.power)

    @property
    def integral(self) -> Expression:
        """The whole, as an integral still to be done."""
        return scaled(self.front, Integral(Quotient(self.over_tree, self.below), self.letter))


# one technique after another looks at an integrand
@lru_cache(maxsize=64)
def over_quadratic(integrand: Expression, variable: Symbol, power: Fraction) -> OverQuadratic | None:
    """See an integrand as a polynomial over a power of a quadratic, else None.

    With power 1 the polynomial below the line may be of another degree: a division or cancelling comes first then.

    >>> x = Symbol("x")
    >>> seen = over_quadratic(3 * (x + 3) / (2 * x**2 + 4 * x + 10), x, Fraction(1))
    >>> seen.front, seen.over, seen.under
    (Fraction(3, 1), (Fraction(3, 1), Fraction(1, 1)), (Fraction(10, 1), Fraction(4, 1), Fraction(2, 1)))
    """
    seen = factored(integrand)
    above = tuple((base, n) for base, n in seen.powers if n.numerator > 0)
    below = tuple((base, -n) for base, n in seen.powers if n.numerator < 0)
    if not below or any(n.denominator != 1 for _, n in above) or not seen.coefficient:
        return None
    if any(as_polynomial(base, variable) is None for base, _ in seen.powers):
        return None
    if power != 1 and any(n != power for _, n in below):
        return None
    over_tree = product(*(power_tree(base, n) for base, n in above))
    under_tree = product(*(power_tree(base, n / power) for base, n in below))
    over, under = as_polynomial(over_tree, variable), as_polynomial(under_tree, variable)
    if not over or under is None or max(len(over), len(under)) > _DEGREE_LIMIT + 1:
        return None
    if len(under) < 2 or (power != 1 and len(under) != 3):
        return None
    constant = over[0] if len(over) == 1 else fraction(1, 1)
    return OverQuadratic(
        letter=variable,
        front=seen.coefficient * constant,
        over=tuple(c / constant for c in over),
        over_tree=over_tree if len(over) > 1 else Integer(1),
        under=under,
        under_tree=under_tree,
        power=power,
    )


def derivative(quadratic: Coefficients) -> Coefficients:
    """`(b, 2a)` for `(c, b, a)`."""
    _, b, a = quadratic
    return (b, 2 * a)


class Board:
    """The steps of one working, in which finished terms are carried along and no line is written twice.

    Args:
        working: where the lines go.
        letter: the variable of integration.
        start: what stands on the board already.
    """

    def __init__(self, working: Working, letter: Symbol, start: Expression) -> None:
        self._working = working
        self._letter = letter
        self._done: tuple[Expression, ...] = ()
        self._last = start

    def line(self, rule: str, reason: str, *pending: Expression) -> None:
        """Write the finished terms followed by what is pending, unless that stands there already."""
        line = sum_of(*self._done, *pending)
        if line != self._last:
            self._working.step(line, rule, reason)
        self._last = line

    def aside(self, left: Expression, right: Expression, rule: str, reason: str) -> None:
        """State an identity, unless it says nothing."""
        if left != right:
            self._working.aside(left, right, rule, reason)

    def finished(self, *terms: Expression) -> None:
        """Take terms as done: they head every line from now on."""
        self._done += terms

    def integral(self, front: Fraction, integrand: Expression) -> Expression:
        """An integral with a number in front."""
        return scaled(front, Integral(integrand, self._letter))


def antiderivative_terms(coefficients: Coefficients, letter: Symbol) -> Iterator[Expression]:
    """The terms of the integral of a polynomial, highest power first."""
    for degree, c in reversed(tuple(enumerate(coefficients, start=1))):
        if c:
            yield polynomial_tree((0,) * degree + (c / degree,), letter)


def bracket_times(number: Fraction, bracket: Expression, rest: Fraction) -> Expression:
    """`1/2 (2x + 2) + 3`, with nothing multiplied out and the bracket kept.

    >>> bracket_times(Fraction(1), Symbol("x") + 1, Fraction(2)).children[0]
    Sum(terms=(Symbol(name='x'), Integer(value=1)))
    """
    body = bracket if abs(number) == 1 else product(rational(abs(number)), bracket)
    signed = body if number > 0 else Negate(body)
    return Sum((signed, rational(rest))) if rest else signed
