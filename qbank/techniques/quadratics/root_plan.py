"""The numbers of a working with the root of a quadratic below the line, and the answer they lead to."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from qbank.maths.expression import Apply, Expression, Root, Symbol, fraction, sum_of
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd, square_root
from qbank.maths.tidying import scaled
from qbank.techniques.quadratics.completed_denominator import multiple_of
from qbank.techniques.quadratics.completed_square import CompletedSquare, complete_square
from qbank.techniques.quadratics.over_quadratic import OverQuadratic, derivative, over_quadratic

__all__ = ["RootPlan", "last_number", "plan_of"]

Form = Literal["arcsin", "ln", "arctan"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RootPlan:
    """The numbers of one working.

    Attributes:
        seen: the integrand.
        root: the number in front of the root in the answer.
        rest: the constant left over in the numerator.
        square: the quadratic with its square completed.
        last: the number in front of the last function.
        form: that function.
    """

    seen: OverQuadratic
    root: Fraction
    rest: Fraction
    square: CompletedSquare
    last: Surd
    form: Form

    def answer(self) -> Expression:
        """The antiderivative."""
        return sum_of(*self.root_terms(), *self.last_terms())

    def root_terms(self) -> tuple[Expression, ...]:
        """The root of the quadratic, if it occurs."""
        return (scaled(self.root, Root(self.seen.under_tree)),) if self.root else ()

    def last_terms(self, *, untidy: bool = False) -> tuple[Expression, ...]:
        """The last function, if there is one, perhaps with the fractions inside not cleared."""
        if not self.rest:
            return ()
        square = self.square
        if self.form == "ln":
            body = square.body if untidy else self._under_root()
            whole = sum_of(square.inside, Root(body))
            argument = whole if square.number > 0 else Apply("abs", whole)
            return (self.last.in_front_of(Apply("ln", argument)),)
        ratio = square.untidy_ratio if untidy else square.ratio
        return (self.last.in_front_of(Apply(self.form, ratio)),)

    def _under_root(self) -> Expression:
        """u^2 + number multiplied out; the quadratic as it was written where it is the same."""
        square = self.square
        line = (
            square.shift**2 + square.number,
            2 * square.scale * square.shift,
            square.scale**2,
        )
        return self.seen.under_tree if line == self.seen.under else polynomial_tree(line, square.letter)


#: a solution's slips ask for its plan one after the other
@lru_cache(maxsize=16)
def plan_of(integrand: Expression, variable: Symbol) -> RootPlan | None:
    """The numbers of an integrand of this kind, else None.

    >>> from qbank.maths.expression import sqrt
    >>> x = Symbol("x")
    >>> plan_of((x + 3) / sqrt(5 + 4 * x - x**2), x).rest
    Fraction(5, 1)
    """
    seen = over_quadratic(integrand, variable, fraction(1, 2))
    if seen is None or len(seen.over) > 2:
        return None
    square = complete_square(seen.under, variable)
    if square is None or (square.factor < 0 < square.number):
        return None
    multiple, rest = multiple_of(seen.line, derivative(seen.under))
    last = last_number(seen.front * rest, square)
    if last is None:
        return None
    form: Form = "arcsin" if square.factor < 0 else "ln"
    return RootPlan(seen=seen, root=2 * seen.front * multiple, rest=rest, square=square, last=last, form=form)


def last_number(front: Fraction, square: CompletedSquare) -> Surd | None:
    """What stands in front of the inverse sine or the logarithm; None when the numbers are too large."""
    outside = square_root(abs(square.factor))
    return None if outside is None else outside.reciprocal().times(front / square.scale)
