"""The root of a square and a letter as its parts: what by parts and one over the root are written from.

3 sqrt(x^2 - a^2)      3 in front, the square x^2, k = -a^2, and ln|x + sqrt(x^2 - a^2)| for one over the root
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.constant_factor import before_integral, in_front, number, over, split_constant, times
from qbank.maths.expression import (
    Expression,
    Integer,
    Integral,
    Quotient,
    Root,
    Sum,
    Symbol,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.techniques.standard.standard_letters import LetterSquareTerm, standard_letter_square

__all__ = ["RootOfSquare", "root_of_square"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RootOfSquare:
    """`constant * sqrt(square + k)`.

    Attributes:
        variable: the variable.
        constant: in front.
        under: what is under the root, as it was written.
        square: the term with the variable, its sign included.
        fixed: k.
        term: one over the root, a standard form.
    """

    variable: Symbol
    constant: Factored
    under: Expression
    square: Expression
    fixed: Expression
    term: LetterSquareTerm

    @property
    def root(self) -> Expression:
        """The root."""
        return Root(self.under)

    @property
    def other(self) -> Expression:
        """V, so that dv is dx."""
        inner = self.term.inner
        return times(factored(inner.tree), over(inner.slope)).tree()

    def first(self) -> Expression:
        """U v."""
        return times(factored(self.other), factored(self.root)).tree()

    def left(self, size: Factored) -> Expression:
        """K times one over the root, still to be integrated."""
        return before_integral(
            times(size, factored(self.fixed)), Integral(Quotient(Integer(1), self.root), self.variable)
        )

    def answer(self, k: Factored | None = None, half: Factored | None = None) -> Expression:
        """The antiderivative; with another number for k or for the half, a slip."""
        size = number(fraction(1, 2)) if half is None else half
        front = times(self.constant, size)
        last = in_front(times(front, factored(self.fixed) if k is None else k), self.term.answer())
        return sum_of(in_front(front, self.first()), last)


@lru_cache(maxsize=64)
def root_of_square(integrand: Expression, variable: Symbol) -> RootOfSquare | None:
    """See an integrand as the root of a square and a letter, a constant in front; None for anything else.

    >>> x, a = Symbol("x"), Symbol("a")
    >>> root_of_square(3 * Root(x**2 - a**2), x).fixed == -(a**2)
    True
    """
    constant, moving = split_constant(integrand, variable)
    if len(moving.powers) != 1 or not constant.coefficient:
        return None
    under, n = moving.powers[0]
    if n != fraction(1, 2) or not isinstance(under, Sum):
        return None
    term = standard_letter_square(number(1), under, fraction(-1, 2), variable)
    if term is None:
        return None
    square = [term for term in under.terms if variable in term.symbols()]
    fixed = sum_of(*(term for term in under.terms if variable not in term.symbols()))
    return RootOfSquare(
        variable=variable,
        constant=constant,
        under=under,
        square=square[0],
        fixed=fixed,
        term=term,
    )
