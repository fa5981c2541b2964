"""An integrand seen as a number times powers of circular functions of one angle, linear in the variable.

    5 sin^3(2x + 1) / (2 cos^2(2x + 1))    5/2, angle 2x + 1 of slope 2, sin to the 3, cos to the -2

Three techniques start from this sight: odd powers, even powers, and tangents with secants.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain, count

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Sum,
    Symbol,
    product,
    rational,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_linear
from qbank.maths.tidying import scaled, split_coefficient

__all__ = [
    "CIRCULAR",
    "POWER_LIMIT",
    "Angle",
    "CircularPowers",
    "circular_powers",
    "in_front",
    "over_unit",
    "power_product",
    "spare_letter",
]

#: the six functions, each as the exponents (of sine, of cosine) that it stands for
CIRCULAR: dict[str, tuple[int, int]] = {
    "sin": (1, 0),
    "cos": (0, 1),
    "tan": (1, -1),
    "sec": (0, -1),
    "cosec": (-1, 0),
    "cot": (-1, 1),
}

#: integrands with a larger exponent are nobody's exercise and are declined
POWER_LIMIT = 20
#: likewise, all exponents together, where a constant is added in the angle (its exact proofs are much larger)
SHIFTED_LIMIT = 12


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

    @property
    def shifted(self) -> bool:
        """Whether a constant is added."""
        return bool(self.number or self.others)

    def same_as(self, other: Angle) -> bool:
        """Whether two ways of writing mean one angle."""
        mine = (self.slope, self.moving, self.number, self.others)
        return mine == (other.slope, other.moving, other.number, other.others)

    def times(self, factor: int) -> Angle:
        """The angle multiplied by a whole number, multiplied out: twice `x/2 + pi/4` is `x + pi/2`."""
        if factor == 1:
            return self
        slope, number = self.slope * factor, self.number * factor
        others = tuple(_over_a_line(factor, term) for term in self.others)
        moving = _over_a_line(slope, self.moving)
        fixed = (rational(number), *others) if number else others
        falling = slope < 0 and fixed and not isinstance(fixed[0], Negate)
        tree = sum_of(*((*fixed, moving) if falling else (moving, *fixed)))
        return replace(self, tree=tree, slope=slope, number=number, others=others)


@dataclass(frozen=True, slots=True, kw_only=True)
class CircularPowers:
    """A number times powers of circular functions of one angle.

    Attributes:
        coefficient: the number in front.
        angle: the common angle.
        powers: each function's name with its exponent (not zero), in order of first appearance.
        tidy: whether each function was written once, so that no line is needed to collect the powers.
    """

    coefficient: Fraction
    angle: Angle
    powers: tuple[tuple[str, Fraction], ...]
    tidy: bool

    @property
    def names(self) -> frozenset[str]:
        """The functions that occur."""
        return frozenset(name for name, _ in self.powers)

    @property
    def sine_and_cosine(self) -> tuple[Fraction, Fraction]:
        """The exponents of sine and cosine when everything is written in these two."""
        return (
            sum((n * CIRCULAR[name][0] for name, n in self.powers), Fraction(0)),
            sum((n * CIRCULAR[name][1] for name, n in self.powers), Fraction(0)),
        )

    @property
    def whole(self) -> bool:
        """Whether all exponents are whole numbers, so that any function may be written in terms of others."""
        return all(n.denominator == 1 for _, n in self.powers)

    def exponent(self, name: str) -> Fraction:
        """The exponent of one function, 0 when it does not occur."""
        return dict(self.powers).get(name, Fraction(0))

    def tree(self) -> Expression:
        """The product without its coefficient."""
        return power_product(self.angle.tree, self.powers)


def circular_powers(integrand: Expression, variable: Symbol) -> CircularPowers | None:
    """See an integrand as a number times powers of circular functions of one linear angle, else None.

    >>> from qbank.maths.expression import cos, sin
    >>> x = Symbol("x")
    >>> seen = circular_powers(3 * sin(2 * x) ** 3 / cos(2 * x), x)
    >>> seen.coefficient, seen.angle.slope, seen.powers
    (Fraction(3, 1), Fraction(2, 1), (('sin', Fraction(3, 1)), ('cos', Fraction(-1, 1))))
    """
    seen = factored(integrand)
    angle: Angle | None = None
    powers: dict[str, Fraction] = {}
    for written_base, written_exponent in seen.powers:
        base, exponent = _odd_power_under_root(written_base, written_exponent)
        if not isinstance(base, Apply) or base.function not in CIRCULAR:
            return None
        found = _as_angle(base.argument, variable)
        if found is None or (angle is not None and not found.same_as(angle)):
            return None
        angle = angle or found
        powers[base.function] = powers.get(base.function, Fraction(0)) + exponent
    kept = tuple((name, n) for name, n in powers.items() if n)
    if angle is None or not kept or not seen.coefficient or _too_large(angle, kept):
        return None
    return CircularPowers(
        coefficient=seen.coefficient, angle=angle, powers=kept, tidy=_written_once(integrand, len(kept))
    )


def power_product(argument: Expression, powers: tuple[tuple[str, Fraction], ...]) -> Expression:
    """Powers of functions of one argument as a product, those with negative exponents below a fraction line."""
    bases = tuple((Apply(name, argument), n) for name, n in powers if n)
    return Factored(coefficient=Fraction(1), powers=bases).tree()


def over_unit(body: Expression, unit: Expression) -> Expression:
    """`body / unit`, where the unit is often 1.

    >>> over_unit(Symbol("x"), Integer(1)), over_unit(Symbol("x"), 1 / Symbol("a"))
    (Symbol(name='x'), Product(factors=(Symbol(name='a'), Symbol(name='x'))))
    """
    match unit:
        case Integer(1):
            return body
        case Quotient(numerator, denominator):
            return over_unit(product(denominator, body), numerator)
        case _:
            return Quotient(body, unit)


def in_front(number: Fraction, unit: Expression, body: Expression) -> Expression:
    """`number / unit` in front of an integral or a bracket."""
    if unit == Integer(1):
        return scaled(number, body)
    front = product(scaled(abs(number), over_unit(Integer(1), unit)), body)
    return Negate(front) if number < 0 else front


def spare_letter(integrand: Expression) -> Symbol:
    """The letter for a substitution: u, or the next one that does not occur.

    >>> spare_letter(Symbol("u") ** 2)
    Symbol(name='v')
    """
    used = integrand.symbols()
    letters = chain(("u", "v", "w", "t"), (f"u_{number}" for number in count(1)))
    return next(letter for letter in map(Symbol, letters) if letter not in used)


def _too_large(angle: Angle, powers: tuple[tuple[str, Fraction], ...]) -> bool:
    sizes = [abs(n) for _, n in powers]
    return max(sizes) > POWER_LIMIT or (angle.shifted and sum(sizes) > SHIFTED_LIMIT)


def _odd_power_under_root(base: Expression, exponent: Fraction) -> tuple[Expression, Fraction]:
    """`sqrt(sin^3 x)` as `(sin x)^(3/2)`: both are real exactly where sin x >= 0. Not so for an even power."""
    match base:
        case Power(inner, Integer(n)) if n % 2 == 1 and exponent.denominator == 2:
            return inner, exponent * n
        case _:
            return base, exponent


def _written_once(integrand: Expression, functions: int) -> bool:
    applied = sum(1 for node in integrand.walk() if isinstance(node, Apply))
    nested = any(isinstance(node, Power) and isinstance(node.base, Product) for node in integrand.walk())
    return applied == functions and not nested


def _as_angle(tree: Expression, variable: Symbol) -> Angle | None:
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
    slope, moving, constant, others = Fraction(0), None, Fraction(0), list[Expression]()
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
        others=tuple(_over_a_line(number, other) for other in others),
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


def _over_a_line(coefficient: Fraction | int, rest: Expression) -> Expression:
    """`coefficient * rest` as it is written inside an angle: `3x/2` and `pi/2`, with one fraction line."""
    inner, body = split_coefficient(rest)
    value = Fraction(coefficient) * inner
    over = scaled(abs(value.numerator), body)
    tree = over if value.denominator == 1 else Quotient(over, Integer(value.denominator))
    return Negate(tree) if value < 0 else tree
