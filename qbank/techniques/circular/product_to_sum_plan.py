"""The numbers of a working that writes a product of sines and cosines as a sum.

A slip changes one of them, and the plan runs on to the end.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from qbank.maths.constant_factor import in_front, number, over, times
from qbank.maths.expression import Apply, Expression, Integer, Symbol, fraction, product, sum_of
from qbank.maths.factors import Factored, factored
from qbank.techniques.circular.angle_products import (
    AS_TAUGHT,
    AngleProduct,
    Combination,
    Factors,
    Identities,
    angle_product,
    product_tree,
)

__all__ = ["AnglePlan", "angle_plan"]

#: what is done with the number inside the angle; anything but "divided" is a slip
Rule: TypeAlias = Literal["divided", "forgotten", "multiplied"]


@dataclass(frozen=True, slots=True, kw_only=True)
class AnglePlan:
    """The numbers of one working.

    Attributes:
        seen: the integrand.
        identities: as the student remembers them.
        rule: what is done with the number inside an angle.
        sine: the sign of the integral of a sine, -1 when it is right.
    """

    seen: AngleProduct
    identities: Identities = AS_TAUGHT
    rule: Rule = "divided"
    sine: int = -1

    def integrated(self, combination: Combination, front: Factored) -> Expression:
        """The integral of a sum at sight, each term multiplied by what is in front."""
        return sum_of(*(self._integral(factors, times(front, number(c))) for factors, c in combination))

    def answer(self) -> Expression:
        """The antiderivative, multiplied out."""
        sums = self.identities.finished(((self.seen.factors, fraction(1, 1)),))
        return self.integrated(sums, self.seen.constant)

    def _integral(self, factors: Factors, front: Factored) -> Expression:
        """A constant times the integral of at most one moving factor."""
        fixed = product_tree(tuple(one for one in factors if not one[1].moving))
        moving = next((one for one in factors if one[1].moving), None)
        if moving is None:
            variable = self.seen.factors[0][1].variable
            return in_front(front, variable if fixed == Integer(1) else product(variable, fixed))
        whole = times(front, factored(fixed))
        name, angle = moving
        by = {"divided": over(angle.slope), "forgotten": number(1), "multiplied": angle.slope}[self.rule]
        sign = number(self.sine if name == "sin" else 1)
        return in_front(times(whole, by, sign), Apply("cos" if name == "sin" else "sin", angle.tree))


def angle_plan(integrand: Expression, variable: Symbol) -> AnglePlan | None:
    """The numbers of an integrand of this kind, else None.

    >>> from qbank.maths.expression import cos, sin
    >>> x = Symbol("x")
    >>> angle_plan(sin(x) * cos(x), x) is None
    True
    """
    seen = angle_product(integrand, variable)
    return None if seen is None else AnglePlan(seen=seen)
