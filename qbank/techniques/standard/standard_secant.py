"""The standard form with an inverse secant: 1/(|u| sqrt(p u^2 - q)), p and q positive, u linear.

    1/(|x| sqrt(x^2 - 9))      1/3 arcsec(x/3)

The modulus belongs to it: the inverse secant increases on both parts of its domain (NIST DLMF 4.24(ii)). Without the
modulus, 1/(x sqrt(x^2 - 9)) is for a substitution.
"""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.constant_factor import in_front, number, times
from qbank.maths.derivative import derivative
from qbank.maths.expression import Apply, Expression, Integer, Quotient, Root, Sum, Symbol, fraction, product
from qbank.maths.factors import Factored
from qbank.maths.surds import Surd, square_root
from qbank.maths.tidying import split_coefficient
from qbank.messages import say, together
from qbank.techniques.standard.linear_inner import Inner, as_inner
from qbank.techniques.standard.standard_squares import ratio, squares
from qbank.techniques.standard.standard_terms import Habit, slope_factor

__all__ = ["SecantTerm", "standard_secant"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SecantTerm:
    """`constant / (|u| sqrt(p u^2 - q))`.

    Attributes:
        constant: the constant in front.
        inner: u.
        below: what stands under the root, as it was written.
        root_p: the square root of p.
        root_q: the square root of q.
    """

    constant: Factored
    inner: Inner
    below: Expression
    root_p: Surd
    root_q: Surd

    @property
    def reason(self) -> str:
        """What the teacher says."""
        says = say("One over the modulus times the root of a square minus a number gives an inverse secant.")
        if self.root_q.square != 1:
            says = together(says, say("Divide by the number whose square is taken away."))
        return says if self.inner.plain else together(says, say("Divide by the slope of what is inside."))

    def core(self) -> Expression:
        """The standard form."""
        return Quotient(Integer(1), product(Apply("abs", self.inner.tree), Root(self.below)))

    def draft(self) -> Expression | None:
        """Nothing in between."""
        return None

    def answer(self, habit: Habit = "right") -> Expression:
        """The inverse secant, with its factor in front."""
        if habit == "differentiated":
            return in_front(self.constant, derivative(self.core(), self.inner.variable))
        front = Surd(fraction(1, 1)) if habit == "front factor ignored" else self.root_q.reciprocal()
        shown = self.inner.tree if habit == "ratio ignored" else ratio(self.root_p, self.root_q, self.inner)
        constant = times(self.constant, slope_factor(self.inner, habit))
        rest = Factored(coefficient=fraction(1, 1), powers=constant.powers)
        return in_front(rest, front.times(constant.coefficient).in_front_of(Apply("arcsec", shown)))


def standard_secant(constant: Factored, moving: Factored, variable: Symbol) -> SecantTerm | None:
    """See one over a modulus and the root of a difference of the same letter; else None."""
    if len(moving.powers) != 2:
        return None
    modulus = [
        base.argument
        for base, n in moving.powers
        if isinstance(base, Apply) and base.function == "abs" and n == -1
    ]
    root = [base for base, n in moving.powers if isinstance(base, Sum) and n == fraction(-1, 2)]
    if not (modulus and root):
        return None
    (below,), (size, inside) = root, split_coefficient(modulus[0])
    seen = squares(below, variable)
    if seen is None or not size or inside != seen[2] or not seen[0] > 0 > seen[1]:
        return None
    p, q, u = seen
    root_p, root_q, inner = square_root(p), square_root(-q), as_inner(u, variable)
    if inner is None or root_p is None or root_q is None:
        return None
    return SecantTerm(
        constant=times(constant, number(1 / abs(size))),
        inner=inner,
        below=below,
        root_p=root_p,
        root_q=root_q,
    )
