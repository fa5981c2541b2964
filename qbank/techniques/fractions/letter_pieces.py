"""The brackets of a denominator with letters for numbers, a simple fraction over one, and the roots that a quadratic asks for.

k^2 = p/q of p x^2 + q      b/a as it is, sqrt(b/a); b^2/a^2 as b/a
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TypeAlias

from qbank.maths.constant_factor import in_front, number, over, times
from qbank.maths.deciding import enclose
from qbank.maths.expression import Expression, Integer, Quotient, Symbol, fraction, sum_of
from qbank.maths.factors import Factored, power_tree
from qbank.maths.parametric import Letters, Parametric
from qbank.maths.positivity import never_negative
from qbank.maths.surds import Surd, square_root
from qbank.techniques.fractions.simple_fractions import Bracket, product_of

__all__ = ["Completed", "Piece", "brackets_of", "completed", "polynomial_in", "sides"]

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Completed:
    """A quadratic `p x^2 + r x + q` as `number (1 + (k u)^2)`, or with a minus sign, u the variable with `r/(2p)` added.

    Attributes:
        inner: u.
        number: what is left beside `p u^2`.
        lead: p.
        is_sum: whether that and p have the same sign: by their values where these are known, else by their looks.
        root: k, the root of p over the number without its sign; whole powers where both are squares by their looks.
    """

    inner: Expression
    number: Parametric
    lead: Parametric
    is_sum: bool
    root: Factored

    @property
    def before(self) -> Factored:
        """One over the number and k, which is k over p, but for the sign: without a root above the line where that can be."""
        if any(n == fraction(-1, 2) for _, n in self.root.powers):
            return times(number(1 if self.is_sum else -1), self.root, over(self.lead.factored()))
        return times(over(self.number.factored()), over(self.root))

    @property
    def conditions(self) -> tuple[Expression, ...]:
        """What a root is taken of, and must be positive."""
        rooted = (base for base, n in self.root.powers if n.denominator != 1 and base.symbols())
        return tuple(base for base in rooted if not never_negative(base))


@lru_cache(maxsize=64)
def completed(bracket: Bracket[Parametric], variable: Symbol) -> Completed:
    """Complete the square of a quadratic."""
    q, r, p = bracket.factor
    half = r / (p * 2)
    left = q - half * r * fraction(1, 2)
    return Completed(
        inner=polynomial_in((half, p / p), variable),
        number=left,
        lead=p,
        is_sum=_positive(p * left),
        root=_root(times(p.factored(), over(left.factored()))),
    )


def _positive(value: Parametric) -> bool:
    tree = value.tree()
    bounds = None if tree.symbols() else enclose(tree, at={})
    return value.factored().coefficient > 0 if bounds is None else bounds.lower > 0


def _root(ratio: Factored) -> Factored:
    size = square_root(abs(ratio.coefficient))
    if size is None:
        size, kept = Surd(fraction(1, 1)), Factored(coefficient=abs(ratio.coefficient), powers=ratio.powers)
    else:
        kept = Factored(coefficient=Fraction(size.radicand), powers=ratio.powers)
    # k may have either sign: all that is written with it holds for both, so that squares come out without a modulus
    outside = tuple((base, n / 2) for base, n in kept.powers if n % 2 == 0)
    inside = Factored(coefficient=kept.coefficient, powers=tuple(pair for pair in kept.powers if pair[1] % 2))
    if len(inside.powers) == 1 and inside.coefficient == 1:
        rooted = tuple((base, n / 2) for base, n in inside.powers)
    elif inside.powers and inside.coefficient == 1 and all(n < 0 for _, n in inside.powers):
        rooted = ((over(inside).tree(), fraction(-1, 2)),)
    else:
        rooted = () if inside == number(1) else ((inside.tree(), fraction(1, 2)),)
    return Factored(coefficient=size.rational, powers=(*outside, *rooted))


def sides(root: Factored) -> tuple[Factored, Expression]:
    """`b/a` as b and a, a root as itself and 1."""
    above = tuple(pair for pair in root.powers if pair[1] > 0)
    below = tuple((base, -n) for base, n in root.powers if n < 0)
    size = root.coefficient
    return (
        Factored(coefficient=Fraction(size.numerator), powers=above),
        Factored(coefficient=Fraction(size.denominator), powers=below).tree(),
    )


def brackets_of(
    bases: list[tuple[Expression, int]], letters: Letters, variable: Symbol
) -> tuple[tuple[Bracket[Parametric], ...], Parametric] | None:
    """The factors of a denominator, as they were written where they were, and what is left of it."""
    found = dict[Parametric, Bracket[Parametric]]()
    left = letters.number(1)
    for base, n in bases:
        seen = letters.read(base)
        whole = None if seen is None else letters.coefficients(seen, variable)
        if seen is None or whole is None:
            return None
        factors = [(f, e, _rising(letters.coefficients(f, variable) or ())) for f, e in letters.factors(seen)]
        moving = [(f, e, line) for f, e, line in factors if len(line) > 1]
        if any(len(line) > 3 for _, _, line in moving):
            return None
        share = whole[-1]
        for f, e, line in moving:
            old = found.get(f)
            if old is None:
                as_it_is = len(moving) == 1 and e == 1
                factor, tree = (whole, base) if as_it_is else (line, polynomial_in(line, variable))
                old = Bracket(factor=factor, base=tree, exponent=0)
            found[f] = Bracket(factor=old.factor, base=old.base, exponent=old.exponent + e * n)
            share = share / product_of((old.factor[-1:],) * e)[0]
        left = left * product_of(((share,),) * n)[0]
    return (tuple(found.values()), left) if found else None


def _rising(line: _Coefficients) -> _Coefficients:
    """A factor with its sign changed where its highest power has a minus sign."""
    return tuple(-c for c in line) if line[-1].factored().coefficient < 0 else line
