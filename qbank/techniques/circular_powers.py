"""An integrand seen as a number times powers of circular functions of one angle, linear in the variable.

    5 sin^3(2x + 1) / (2 cos^2(2x + 1))    5/2, angle 2x + 1 of slope 2, sin to the 3, cos to the -2

Three techniques start from this sight: odd powers, even powers, and tangents with secants.
"""

from __future__ import annotations

from dataclasses import dataclass
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Angle:
    """`slope * variable + number + others`, where `others` are constants such as `pi/4`.

    Attributes:
        tree: as it was written.
        variable: the letter it depends on.
        slope: its derivative, not zero.
        number: the rational part of what is added.
        others: further constant terms.
    """

    tree: Expression
    variable: Symbol
    slope: Fraction
    number: Fraction
    others: tuple[Expression, ...]

    def same_as(self, other: Angle) -> bool:
        """Whether two ways of writing mean one angle."""
        return (self.slope, self.number, self.others) == (other.slope, other.number, other.others)

    def times(self, factor: int) -> Angle:
        """The angle multiplied by a whole number, multiplied out: twice `x/2 + pi/4` is `x + pi/2`."""
        if factor == 1:
            return self
        slope, number = self.slope * factor, self.number * factor
        others = tuple(_over_a_line(factor, term) for term in self.others)
        moving = _over_a_line(slope, self.variable)
        fixed = (rational(number), *others) if number else others
        ordered = (
            (*fixed, moving) if slope < 0 and fixed and not isinstance(fixed[0], Negate) else (moving, *fixed)
        )
        return Angle(tree=sum_of(*ordered), variable=self.variable, slope=slope, number=number, others=others)


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
    if angle is None or not kept or not seen.coefficient or any(abs(n) > POWER_LIMIT for _, n in kept):
        return None
    return CircularPowers(
        coefficient=seen.coefficient, angle=angle, powers=kept, tidy=_written_once(integrand, len(kept))
    )


def power_product(argument: Expression, powers: tuple[tuple[str, Fraction], ...]) -> Expression:
    """Powers of functions of one argument as a product, those with negative exponents below a fraction line."""
    bases = tuple((Apply(name, argument), n) for name, n in powers if n)
    return Factored(coefficient=Fraction(1), powers=bases).tree()


def spare_letter(integrand: Expression) -> Symbol:
    """The letter for a substitution: u, or the next one that does not occur.

    >>> spare_letter(Symbol("u") ** 2)
    Symbol(name='v')
    """
    used = integrand.symbols()
    letters = chain(("u", "v", "w", "t"), (f"u_{number}" for number in count(1)))
    return next(letter for letter in map(Symbol, letters) if letter not in used)


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
    parts = _linear_parts(tree, variable)
    if parts is None or not parts[0]:
        return None
    slope, number, others = parts
    return Angle(tree=tree, variable=variable, slope=slope, number=number, others=others)


_Parts = tuple[Fraction, Fraction, tuple[Expression, ...]]


def _linear_parts(tree: Expression, variable: Symbol) -> _Parts | None:
    """Slope, rational constant and other constant terms of a linear expression, else None."""
    linear = as_linear(tree, variable)
    if linear is not None:
        return *linear, ()
    number, body = split_coefficient(tree)
    if variable not in tree.symbols():
        return (Fraction(0), number, ()) if body == Integer(1) else (Fraction(0), Fraction(0), (tree,))
    if not isinstance(body, Sum):
        return None
    slope, constant, others = Fraction(0), Fraction(0), list[Expression]()
    for term in body.terms:
        part = _linear_parts(term, variable)
        if part is None:
            return None
        slope, constant = slope + part[0], constant + part[1]
        others.extend(part[2])
    return slope * number, constant * number, tuple(_over_a_line(number, other) for other in others)


def _over_a_line(coefficient: Fraction | int, rest: Expression) -> Expression:
    """`coefficient * rest` as it is written inside an angle: `3x/2` and `pi/2`, with one fraction line."""
    inner, body = split_coefficient(rest)
    value = Fraction(coefficient) * inner
    over = scaled(abs(value.numerator), body)
    tree = over if value.denominator == 1 else Quotient(over, Integer(value.denominator))
    return Negate(tree) if value < 0 else tree
