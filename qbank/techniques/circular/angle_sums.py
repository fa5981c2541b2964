"""Sums and differences of angles that are linear in the variable, and what stands below the line when one is integrated.

3x + 1  and  5x             8x + 1, and 2x - 1 with the sign turned so that the variable comes out positive
a x  and  b x               (a + b) x, (a - b) x
x + pi/4  and  x            2x + pi/4, and the constant pi/4
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.constant_factor import in_front, number, times
from qbank.maths.expression import Expression, Integer, Negate, Symbol, fraction, product, rational, sum_of
from qbank.maths.factors import Factored, factored
from qbank.maths.tidying import scaled, split_coefficient
from qbank.techniques.circular.angles import as_angle, over_a_line

__all__ = ["AngleSum", "angle_sum"]

Parts = tuple[tuple[Expression, Fraction], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AngleSum:
    """`(c u + ...) x + number + ...`.

    Attributes:
        variable: x.
        moving: each unit u, such as 1, pi or a letter, with its number; empty for a constant.
        number: the rational part of what is added.
        others: further constants such as pi, each with its number.
    """

    variable: Symbol
    moving: Parts
    number: Fraction
    others: Parts

    def plus(self, other: AngleSum, sign: int) -> AngleSum:
        """The sum with another angle, or the difference for sign -1."""
        return AngleSum(
            variable=self.variable,
            moving=_joined((*self.moving, *((unit, sign * c) for unit, c in other.moving))),
            number=self.number + sign * other.number,
            others=_joined((*self.others, *((unit, sign * c) for unit, c in other.others))),
        )

    @property
    def falls(self) -> bool:
        """Whether its first number is negative."""
        first = (*self.moving, *(((Integer(1), self.number),) if self.number else ()), *self.others)
        return bool(first) and first[0][1] < 0

    @property
    def rising(self) -> AngleSum:
        """The angle, or its opposite when that has the positive number first."""
        zero = AngleSum(variable=self.variable, moving=(), number=fraction(0, 1), others=())
        return zero.plus(self, -1) if self.falls else self

    @property
    def is_zero(self) -> bool:
        """Whether nothing is left."""
        return not (self.moving or self.number or self.others)

    @property
    def slope(self) -> Factored:
        """The derivative, by which an integral is divided."""
        if len(self.moving) == 1:
            unit, c = self.moving[0]
            return times(number(c), factored(unit))
        return factored(sum_of(*(scaled(c, unit) for unit, c in self.moving)))

    @property
    def tree(self) -> Expression:
        """As it is written."""
        fixed = [rational(self.number)] if self.number else []
        fixed += [over_a_line(c, unit) for unit, c in self.others]
        if len(self.moving) > 1:
            return sum_of(product(self.slope.tree(), self.variable), *fixed)
        moving = [over_a_line(c, in_front(factored(unit), self.variable)) for unit, c in self.moving]
        if self.falls and fixed and not isinstance(fixed[0], Negate):
            return sum_of(*fixed, *moving)
        return sum_of(*moving, *fixed)


def angle_sum(tree: Expression, variable: Symbol) -> AngleSum | None:
    """A linear expression in the variable, else None.

    >>> x = Symbol("x")
    >>> first, second = angle_sum(3 * x, x), angle_sum(x + 1, x)
    >>> first.plus(second, -1).tree == 2 * x - 1
    True
    """
    seen = as_angle(tree, variable)
    if seen is None:
        return None
    others = (split_coefficient(other) for other in seen.others)
    return AngleSum(
        variable=variable,
        moving=((seen.unit, seen.slope),),
        number=seen.number,
        others=_joined((body, c) for c, body in others),
    )


def _joined(parts: Iterable[tuple[Expression, Fraction]]) -> Parts:
    found: dict[Expression, Fraction] = {}
    for unit, c in parts:
        found[unit] = found.get(unit, fraction(0, 1)) + c
    return tuple((unit, c) for unit, c in found.items() if c)
