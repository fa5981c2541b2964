"""The two standard forms with squares: 1/(p u^2 + q) and 1/sqrt(q - p u^2), p and q positive, u linear.

    1/(p u^2 + q)        1/(sqrt p sqrt q) arctan(u sqrt(p/q))
    1/sqrt(q - p u^2)    1/sqrt p arcsin(u sqrt(p/q))

NIST DLMF 4.26.8 onwards; for u = x + b and other quadratics the square is completed first, which is a technique
of its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.constant_factor import in_front, number, times
from qbank.maths.derivative import derivative
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Power,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    product,
)
from qbank.maths.factors import Factored
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.surds import Surd, square_root
from qbank.maths.tidying import split_coefficient
from qbank.messages import say, together
from qbank.techniques.standard.linear_inner import Inner, as_inner
from qbank.techniques.standard.standard_letters import LetterSquareTerm, standard_letter_square
from qbank.techniques.standard.standard_terms import Habit, slope_factor

__all__ = ["SquareTerm", "ratio", "squares", "standard_square"]


_ONE = Surd(fraction(1, 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class SquareTerm:
    """`constant / (p u^2 + q)` or `constant / sqrt(q - p u^2)`.

    Attributes:
        constant: the constant in front.
        inner: u.
        below: the sum of squares as it was written, without the root.
        root_p: the square root of p.
        root_q: the square root of q.
        under_root: whether it is the second form.
    """

    constant: Factored
    inner: Inner
    below: Expression
    root_p: Surd
    root_q: Surd
    under_root: bool

    @property
    def reason(self) -> str:
        """What the teacher says."""
        if self.under_root:
            says = say("One over the root of a square minus a square gives an inverse sine.")
            return (
                together(says, say("Divide by the slope of what is inside.")) if self._has_slope() else says
            )
        return _tangent_reason(number=self.root_q != _ONE, slope=self._has_slope())

    def _has_slope(self) -> bool:
        return self.root_p != _ONE or not self.inner.plain

    def core(self) -> Expression:
        """The standard form."""
        return Quotient(Integer(1), Root(self.below) if self.under_root else self.below)

    def draft(self) -> Expression | None:
        """Nothing in between."""
        return None

    def answer(self, habit: Habit = "right") -> Expression:
        """The inverse function, with its factor in front."""
        if habit == "differentiated":
            return in_front(self.constant, derivative(self.core(), self.inner.variable))
        if habit == "logarithm of the denominator" and not self.under_root:
            return in_front(self.constant, Apply("ln", self.below))
        if habit == "root as a power" and self.under_root:
            return in_front(times(self.constant, number(2)), Root(self.below))
        front = self._front(habit)
        name = "arcsin" if self.under_root else "arctan"
        argument = (
            self.inner.tree if habit == "ratio ignored" else ratio(self.root_p, self.root_q, self.inner)
        )
        constant = times(self.constant, slope_factor(self.inner, habit))
        surd = front.times(constant.coefficient)
        rest = Factored(coefficient=fraction(1, 1), powers=constant.powers)
        return in_front(rest, surd.in_front_of(Apply(name, argument)))

    def _front(self, habit: Habit) -> Surd:
        if habit == "front factor ignored":
            return _ONE
        full = self.root_p.times(self.root_q)
        if habit == "slope multiplied" and not self.under_root:
            return full
        if self.under_root and habit != "front factor of the other":
            return self.root_p.reciprocal()
        return full.reciprocal()


def ratio(root_p: Surd, root_q: Surd, inner: Inner) -> Expression:
    """`u sqrt(p/q)`, one fraction line: `2x/3`, `x/sqrt(5)`."""
    above, below = root_p.times(root_q.reciprocal()).sides()
    moved = _expanded_times(above, inner)
    return moved if below == Integer(1) else Quotient(moved, below)


def _tangent_reason(*, number: bool, slope: bool) -> str:
    """What the teacher says of an inverse tangent, and what to divide by, where that is not 1."""
    says = say("One over a sum of two squares gives an inverse tangent.")
    if number and slope:
        return together(says, say("Divide by the number that is squared and by the slope of what is inside."))
    if number:
        return together(says, say("Divide by the number that is squared."))
    return together(says, say("Divide by the slope of what is inside.")) if slope else says


def _expanded_times(factor: Expression, inner: Inner) -> Expression:
    """A whole number goes into a linear bracket: 2 times `x + 1` is `2x + 2`."""
    value, line = as_fraction(factor), as_polynomial(inner.tree, inner.variable)
    if value == 1:
        return inner.tree
    if value is not None and line is not None:
        return polynomial_tree(tuple(value * c for c in line), inner.variable)
    return product(factor, inner.tree)


def standard_square(
    constant: Factored, moving: Factored, variable: Symbol
) -> SquareTerm | LetterSquareTerm | None:
    """See one over a sum of squares, or over the root of a difference; else None."""
    if len(moving.powers) != 1:
        return None
    base, exponent = moving.powers[0]
    if not isinstance(base, Sum) or exponent not in (-1, fraction(-1, 2)):
        return None
    seen = squares(base, variable)
    if seen is None:
        return standard_letter_square(constant, base, exponent, variable)
    p, q, u = seen
    under_root = exponent != -1
    if q <= 0 or (p > 0) == under_root:
        return None
    root_p, root_q, inner = square_root(abs(p)), square_root(q), as_inner(u, variable)
    if root_p is None or root_q is None or inner is None:
        return None
    return SquareTerm(
        constant=constant, inner=inner, below=base, root_p=root_p, root_q=root_q, under_root=under_root
    )


def squares(base: Sum, variable: Symbol) -> tuple[Fraction, Fraction, Expression] | None:
    """`(p, q, u)` of `p u^2 + q`: u is the variable, or the bracket that is squared."""
    coefficients = as_polynomial(base, variable)
    if coefficients is not None and len(coefficients) == 3 and not coefficients[1]:
        return coefficients[2], coefficients[0], variable
    if len(base.terms) != 2:
        return None
    for square, rest in (base.terms, base.terms[::-1]):
        q = as_fraction(rest)
        p, body = split_coefficient(square)
        if q is not None and isinstance(body, Power) and as_fraction(body.exponent) == 2:
            return p, q, body.base
    return None
