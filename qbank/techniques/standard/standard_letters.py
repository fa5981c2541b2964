"""Standard forms with squares and a letter for the number, as a formula booklet prints them.

    1/(u^2 + c^2)            1/c arctan(u/c)
    1/(c^2 - u^2)            1/(2c) ln|(c + u)/(c - u)|
    1/(u^2 - c^2)            1/(2c) ln|(u - c)/(u + c)|
    1/sqrt(u^2 + k)          ln|u + sqrt(u^2 + k)|
    1/sqrt(c^2 - u^2)        arcsin(u/|c|)
    1/sqrt(k - u^2)          arcsin(u/sqrt(k))

NIST DLMF 4.26.8 onwards and 4.40. They hold whatever the sign of c, and of k in the first of the roots; in the last one k is larger
than a square. With numbers in place of c and k other techniques find the working.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from qbank.maths.constant_factor import in_front, number, over, times
from qbank.maths.derivative import derivative
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Negate,
    Quotient,
    Root,
    Sum,
    Symbol,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.surds import square_root
from qbank.messages import say, together
from qbank.techniques.standard.linear_inner import Inner, as_inner
from qbank.techniques.standard.standard_terms import Habit, slope_factor

__all__ = ["LetterSquareTerm", "standard_letter_square"]

_Kind = Literal["sum", "difference", "turned difference", "root", "turned root"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterSquareTerm:
    """`constant / (u^2 + c^2)` or one of the others, with a letter in c or k: `1/(a^2 + b^2 x^2)`.

    Attributes:
        constant: the constant in front.
        inner: u.
        below: the sum or difference as it was written, without the root.
        root: c; what u is divided by in the inverse sine; nothing for the other root.
        kind: which form: `difference` is c^2 - u^2, `turned difference` u^2 - c^2, `turned root` that of c^2 - u^2.
    """

    constant: Factored
    inner: Inner
    below: Expression
    root: Factored
    kind: _Kind

    @property
    def reason(self) -> str:
        """What the teacher says."""
        match self.kind:
            case "sum":
                says = say("One over a sum of two squares gives an inverse tangent.")
                return (
                    together(says, say("Divide by the number that is squared."))
                    if self.inner.plain
                    else together(
                        says, say("Divide by the number that is squared and by the slope of what is inside.")
                    )
                )
            case "root":
                says = say("One over the root of this sum or difference of squares gives a logarithm.")
            case "turned root":
                says = say("One over the root of a number less a square gives an inverse sine.")
            case _:
                says = say("One over a difference of two squares gives the logarithm of a quotient.")
        return says if self.inner.plain else together(says, say("Divide by the slope of what is inside."))

    def core(self) -> Expression:
        """The standard form."""
        return Quotient(Integer(1), Root(self.below) if self._is_root else self.below)

    @property
    def _is_root(self) -> bool:
        return self.kind in {"root", "turned root"}

    def draft(self) -> Expression | None:
        """Nothing in between."""
        return None

    def answer(self, habit: Habit = "right") -> Expression:
        """The inverse tangent or the logarithm, with its factor in front."""
        if habit == "differentiated":
            return in_front(self.constant, derivative(self.core(), self.inner.variable))
        if habit == "logarithm of the denominator" and not self._is_root:
            size = self.below if self.kind == "sum" else Apply("abs", self.below)
            return in_front(self.constant, Apply("ln", size))
        if habit == "root as a power" and self._is_root:
            return in_front(times(self.constant, number(2)), Root(self.below))
        front = number(1) if habit == "front factor ignored" or self._is_root else over(self.root)
        if self.kind in {"difference", "turned difference"}:
            front = times(front, number(fraction(1, 2)))
        return in_front(times(self.constant, slope_factor(self.inner, habit), front), self._function(habit))

    def _function(self, habit: Habit) -> Expression:
        u, c = self.inner.tree, self.root.tree()
        match self.kind:
            case "sum" | "turned root":
                ratio = times(factored(u), over(self.root)).tree()
                function = "arctan" if self.kind == "sum" else "arcsin"
                return Apply(function, u if habit == "ratio ignored" else ratio)
            case "difference":
                inside: Expression = Quotient(sum_of(c, u), sum_of(c, Negate(u)))
            case "turned difference":
                inside = Quotient(sum_of(u, Negate(c)), sum_of(u, c))
            case "root":
                inside = sum_of(u, Root(self.below))
        return Apply("ln", Apply("abs", inside))


def standard_letter_square(
    constant: Factored, base: Sum, exponent: Fraction, variable: Symbol
) -> LetterSquareTerm | None:
    """See one of the forms where both terms, or under a root the one with the variable, are squares by their looks; else None."""
    fixed = [term for term in base.terms if variable not in term.symbols()]
    moving = [term for term in base.terms if variable in term.symbols()]
    if not fixed or len(moving) != 1:
        return None
    u, moving_sign = _root(moving[0])
    inner = None if u is None else as_inner(u.tree(), variable)
    if inner is None:
        return None
    if exponent == fraction(-1, 2):
        k = sum_of(*fixed)
        if not k.symbols():
            return None
        unit = number(1) if moving_sign > 0 else _unit(k)
        kind: _Kind = "root" if moving_sign > 0 else "turned root"
        return LetterSquareTerm(constant=constant, inner=inner, below=base, root=unit, kind=kind)
    c, fixed_sign = _root(fixed[0]) if len(fixed) == 1 else (None, 1)
    if c is None or not c.powers:
        return None
    if exponent != -1 or (fixed_sign < 0 and moving_sign < 0):
        return None
    kind = "turned difference" if fixed_sign < 0 else "sum" if moving_sign > 0 else "difference"
    return LetterSquareTerm(constant=constant, inner=inner, below=base, root=c, kind=kind)


def _unit(k: Expression) -> Factored:
    """The positive number of which k is the square: `2|a|` of `4a^2`, as a may be negative; its root of anything else."""
    c, sign = _root(k)
    if c is None or sign < 0:
        return Factored(coefficient=fraction(1, 1), powers=((k, fraction(1, 2)),))
    letters = Factored(coefficient=fraction(1, 1), powers=c.powers).tree()
    return times(number(c.coefficient), factored(Apply("abs", letters)))


def _root(term: Expression) -> tuple[Factored | None, int]:
    """The root of a term that is a square by its looks, but for its sign: `3a` of `9a^2`, and the sign."""
    seen = factored(term)
    sign = 1 if seen.coefficient > 0 else -1
    size = square_root(abs(seen.coefficient)) if seen.coefficient else None
    if size is None or size.radicand != 1 or any(n % 2 for _, n in seen.powers):
        return None, sign
    return Factored(coefficient=size.rational, powers=tuple((base, n / 2) for base, n in seen.powers)), sign
