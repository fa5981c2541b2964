"""A simple fraction with letters for numbers, and the roots that its quadratic asks for.

k^2 = p/q of p x^2 + q      b/a as it is, sqrt(b/a); b^2/a^2 as b/a
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from qbank.maths.constant_factor import in_front, over, times
from qbank.maths.expression import Expression, Integer, Quotient, Symbol, sum_of
from qbank.maths.factors import Factored, power_tree
from qbank.maths.parametric import Parametric
from qbank.maths.surds import Surd, square_root
from qbank.techniques.fractions.simple_fractions import Bracket

__all__ = ["Piece", "is_sum", "polynomial_in", "root_of", "sides"]

_Coefficients: TypeAlias = tuple[Parametric, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """`(top of degree 0 or 1)/bracket^exponent`; an exponent that is not positive raises a linear bracket above the line."""

    bracket: Bracket[Parametric]
    exponent: int
    top: _Coefficients

    @property
    def raised(self) -> Expression:
        """The bracket with its exponent, without its sign."""
        return power_tree(self.bracket.base, Fraction(abs(self.exponent)))

    def shown(self, variable: Symbol) -> Expression:
        """As a term of a sum."""
        body: Expression = Integer(1)
        if self.exponent:
            body = Quotient(Integer(1), self.raised) if self.exponent > 0 else self.raised
        if len(self.top) == 1 or not self.top[1]:
            return in_front(self.top[0].factored(), body)
        if not self.top[0]:
            return in_front(self.top[1].factored(), Quotient(variable, self.raised))
        lead, ratio = self.top[1], self.top[0] / self.top[1]
        size = lead / ratio.denominator
        line = polynomial_in((ratio * ratio.denominator, ratio.denominator), variable)
        return in_front(size.factored(), Quotient(line, self.raised))


def polynomial_in(coefficients: _Coefficients, variable: Symbol) -> Expression:
    """A polynomial with letters for numbers, highest power first; a term without a minus sign comes before one with."""
    terms = [
        (c.factored(), power_tree(variable, Fraction(degree)) if degree else Integer(1))
        for degree, c in reversed(tuple(enumerate(coefficients)))
        if c
    ]
    ordered = sorted(terms, key=lambda term: term[0].coefficient < 0)
    return sum_of(*(in_front(*term) for term in ordered))


def is_sum(bracket: Bracket[Parametric]) -> bool:
    """Whether a quadratic p x^2 + q is a sum of two terms by its looks, and not a difference."""
    q, _, p = bracket.factor
    return (p.factored().coefficient > 0) == (q.factored().coefficient > 0)


def root_of(bracket: Bracket[Parametric]) -> Factored:
    """k, the root of p/q without its sign: with whole powers where both are squares by their looks."""
    q, _, p = bracket.factor
    ratio = times(p.factored(), over(q.factored()))
    size = square_root(abs(ratio.coefficient))
    if size is None:
        size, kept = Surd(Fraction(1)), Factored(coefficient=abs(ratio.coefficient), powers=ratio.powers)
    else:
        kept = Factored(coefficient=Fraction(size.radicand), powers=ratio.powers)
    if kept.coefficient == 1 and all(n % 2 == 0 for _, n in kept.powers):
        powers = tuple((base, n / 2) for base, n in kept.powers)
    else:
        powers = ((kept.tree(), Fraction(1, 2)),)
    return Factored(coefficient=size.rational, powers=powers)


def sides(root: Factored) -> tuple[Factored, Expression]:
    """`b/a` as b and a, a root as itself and 1."""
    above = tuple(pair for pair in root.powers if pair[1] > 0)
    below = tuple((base, -n) for base, n in root.powers if n < 0)
    size = root.coefficient
    return (
        Factored(coefficient=Fraction(size.numerator), powers=above),
        Factored(coefficient=Fraction(size.denominator), powers=below).tree(),
    )
