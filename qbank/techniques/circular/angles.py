"""Angles linear in the variable, and the constant factors that stand before and below integrals because of them.

3x/2 + pi/4     slope 3/2, unit 1          pi x/2     slope 1/2, unit pi
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from qbank.maths.expression import (
    Expression,
    Integer,
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
from qbank.maths.polynomial import as_linear
from qbank.maths.tidying import scaled, split_coefficient

__all__ = ["ONE", "Angle", "Constants", "as_angle", "over_a_line"]

#: the usual constant factor
ONE = Integer(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Angle:
    """`slope * moving + number + others`, where `moving` is the variable or a constant such as pi times it.

    Attributes:
        tree: as it was written.
        variable: the letter it depends on.
        slope: the rational part of its derivative, not zero.
        moving: what the slope multiplies: `x`, `pi x`, `b x`.
        unit: the derivative of `moving`, 1 in the usual case.
        number: the rational part of what is added.
        others: further constant terms, such as `pi/4`.
    """

    tree: Expression
    variable: Symbol
    slope: Fraction
    moving: Expression
    unit: Expression
    number: Fraction
    others: tuple[Expression, ...]

    def same_as(self, other: Angle) -> bool:
        """Whether two ways of writing mean one angle."""
        mine = (self.slope, self.moving, self.number, self.others)
        return mine == (other.slope, other.moving, other.number, other.others)

    def times(self, factor: int | Fraction) -> Angle:
        """The angle multiplied by a number, multiplied out: twice `x/2 + pi/4` is `x + pi/2`."""
        if factor == 1:
            return self
        slope, number = self.slope * factor, self.number * factor
        others = tuple(over_a_line(factor, term) for term in self.others)
        moving = over_a_line(slope, self.moving)
        fixed = (rational(number), *others) if number else others
        falling = slope < 0 and fixed and not isinstance(fixed[0], Negate)
        tree = sum_of(*((*fixed, moving) if falling else (moving, *fixed)))
        return replace(self, tree=tree, slope=slope, number=number, others=others)


@dataclass(frozen=True, slots=True, kw_only=True)
class Constants:
    """Constant factors that are not rational: `times / over`, both 1 in the usual case.

    Attributes:
        times: a constant in front of the integrand, such as `sqrt(2)` or a letter.
        over: the unit of the angle, by which an integral is divided.
    """

    times: Expression = ONE
    over: Expression = ONE

    def applied(self, body: Expression) -> Expression:
        """The constants times a body.

        >>> Constants(over=1 / Symbol("a")).applied(Symbol("x"))
        Product(factors=(Symbol(name='a'), Symbol(name='x')))
        """
        (times, below), (unit, above) = _fraction(self.times), _fraction(self.over)
        over, under = _times(times, _times(above, body)), _times(below, unit)
        return over if under == ONE else Quotient(over, under)

    def in_front(self, number: Fraction, body: Expression) -> Expression:
        """A number and the constants in front of an integral or a bracket, which stays out of the fraction."""
        constant = self.applied(ONE)
        if constant == ONE:
            return scaled(number, body)
        front = product(scaled(abs(number), constant), body)
        return Negate(front) if number < 0 else front

    def whole(self) -> Constants:
        """Without the division by the unit."""
        return replace(self, over=ONE)

    def inverted(self) -> Constants:
        """Multiplied by the unit instead of divided (what a slip does)."""
        above, below = _fraction(self.over)
        return replace(self, over=below if above == ONE else Quotient(below, above))


def _times(constant: Expression, body: Expression) -> Expression:
    return body if constant == ONE else constant if body == ONE else product(constant, body)


def _fraction(constant: Expression) -> tuple[Expression, Expression]:
    """Numerator and denominator."""
    if isinstance(constant, Quotient):
        return constant.numerator, constant.denominator
    return constant, ONE


def as_angle(tree: Expression, variable: Symbol) -> Angle | None:
    """The parts of a linear expression in the variable, else None.

    >>> from qbank.maths.expression import PI
    >>> x = Symbol("x")
    >>> angle = as_angle(PI * x / 2 + 1, x)
    >>> angle.slope, angle.unit, angle.times(2).tree == PI * x + 2
    (Fraction(1, 2), Constant(name='pi'), True)
    """
    linear = as_linear(tree, variable)
    parts = _Linear(slope=linear[0], moving=variable, number=linear[1]) if linear else _linear(tree, variable)
    if parts is None or not parts.slope or parts.moving is None:
        return None
    return Angle(
        tree=tree,
        variable=variable,
        slope=parts.slope,
        moving=parts.moving,
        unit=_without(parts.moving, variable),
        number=parts.number,
        others=parts.others,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Linear:
    """An angle under construction; `moving` is None while only constants were met."""

    slope: Fraction = Fraction(0)
    moving: Expression | None = None
    number: Fraction = Fraction(0)
    others: tuple[Expression, ...] = ()


def _linear(tree: Expression, variable: Symbol) -> _Linear | None:
    """The parts of a linear expression with constants that are not rational, else None."""
    number, body = split_coefficient(tree)
    if variable not in tree.symbols():
        return _Linear(number=number) if body == Integer(1) else _Linear(others=(tree,))
    if not isinstance(body, Sum):
        return _Linear(slope=number, moving=body) if _is_multiple(body, variable) else None
    slope, moving, constant, others = fraction(0, 1), None, fraction(0, 1), list[Expression]()
    for term in body.terms:
        part = _linear(term, variable)
        if part is None or (part.moving is not None and moving not in (None, part.moving)):
            return None
        slope, constant, moving = slope + part.slope, constant + part.number, moving or part.moving
        others.extend(part.others)
    return _Linear(
        slope=slope * number,
        moving=moving,
        number=constant * number,
        others=tuple(over_a_line(number, other) for other in others),
    )


def _is_multiple(body: Expression, variable: Symbol) -> bool:
    """Whether a product or quotient is the variable times something without it."""
    match body:
        case Symbol():
            return body == variable
        case Product(factors):
            return factors.count(variable) == 1 and sum(variable in f.symbols() for f in factors) == 1
        case Quotient(numerator, denominator):
            return variable not in denominator.symbols() and _is_multiple(numerator, variable)
        case _:
            return False


def _without(moving: Expression, variable: Symbol) -> Expression:
    match moving:
        case Product(factors):
            return product(*(factor for factor in factors if factor != variable))
        case Quotient(numerator, denominator):
            return Quotient(_without(numerator, variable), denominator)
        case _:
            return Integer(1)


def over_a_line(coefficient: Fraction | int, rest: Expression) -> Expression:
    """`coefficient * rest` as it is written inside an angle: `3x/2` and `pi/2`, with one fraction line."""
    inner, body = split_coefficient(rest)
    value = fraction(coefficient, 1) * inner
    over = scaled(abs(value.numerator), body)
    tree = over if value.denominator == 1 else Quotient(over, Integer(value.denominator))
    return Negate(tree) if value < 0 else tree
