"""An integrand seen as a number times powers of circular functions of one angle, linear in the variable.

    5 sin^3(2x + 1) / (2 cos^2(2x + 1))    5/2, angle 2x + 1 of slope 2, sin to the 3, cos to the -2

Three techniques start from this sight: odd powers, even powers, and tangents with secants. The hyperbolic functions
are seen in the same way.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import chain, count

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Power,
    Product,
    Symbol,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.techniques.circular.angles import Angle, Constants, as_angle

__all__ = [
    "CIRCULAR",
    "HYPERBOLIC",
    "POWER_LIMIT",
    "CircularPowers",
    "circular_powers",
    "power_product",
    "spare_letter",
    "spare_pair",
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

#: the same for the hyperbolic functions, as exponents of sinh and cosh
HYPERBOLIC: dict[str, tuple[int, int]] = {
    "sinh": (1, 0),
    "cosh": (0, 1),
    "tanh": (1, -1),
    "sech": (0, -1),
    "cosech": (-1, 0),
    "coth": (-1, 1),
}

_EXPONENTS = CIRCULAR | HYPERBOLIC

#: integrands with a larger exponent are nobody's exercise and are declined
POWER_LIMIT = 20
#: letters for a substitution
_LETTERS = tuple(map(Symbol, "uvwt"))


@dataclass(frozen=True, slots=True, kw_only=True)
class CircularPowers:
    """A number times powers of circular functions of one angle.

    Attributes:
        coefficient: the rational number in front.
        constants: what else stands in front, and the unit of the angle.
        angle: the common angle.
        powers: each function's name with its exponent (not zero), in order of first appearance.
        tidy: whether each function was written once, so that no line is needed to collect the powers.
    """

    coefficient: Fraction
    constants: Constants
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
            sum((n * _EXPONENTS[name][0] for name, n in self.powers), fraction(0, 1)),
            sum((n * _EXPONENTS[name][1] for name, n in self.powers), fraction(0, 1)),
        )

    @property
    def whole(self) -> bool:
        """Whether all exponents are whole numbers, so that any function may be written in terms of others."""
        return all(n.denominator == 1 for _, n in self.powers)

    def exponent(self, name: str) -> Fraction:
        """The exponent of one function, 0 when it does not occur."""
        return dict(self.powers).get(name, fraction(0, 1))

    def before(self, integral: Expression) -> Expression:
        """The number and the constant before an integral in the variable."""
        return self.constants.whole().in_front(self.coefficient, integral)


# a technique and each of its slips look at one integrand in turn
@lru_cache(maxsize=64)
def circular_powers(
    integrand: Expression, variable: Symbol, *, hyperbolic: bool = False
) -> CircularPowers | None:
    """See an integrand as a number times powers of circular functions of one linear angle, else None.

    Args:
        integrand: any expression.
        variable: the variable of the angle.
        hyperbolic: whether the hyperbolic functions are looked for in place of the circular ones.

    >>> from qbank.maths.expression import cos, sin
    >>> x = Symbol("x")
    >>> seen = circular_powers(3 * sin(2 * x) ** 3 / cos(2 * x), x)
    >>> seen.coefficient, seen.angle.slope, seen.powers
    (Fraction(3, 1), Fraction(2, 1), (('sin', Fraction(3, 1)), ('cos', Fraction(-1, 1))))
    """
    seen = factored(integrand)
    functions = HYPERBOLIC if hyperbolic else CIRCULAR
    angle: Angle | None = None
    powers: dict[str, Fraction] = {}
    for written_base, written_exponent in seen.powers:
        base, exponent = _power_under_root(written_base, written_exponent)
        if variable not in base.symbols():
            continue
        if not isinstance(base, Apply) or base.function not in functions:
            return None
        found = as_angle(base.argument, variable)
        if found is None or (angle is not None and not found.same_as(angle)):
            return None
        angle = angle or found
        powers[base.function] = powers.get(base.function, fraction(0, 1)) + exponent
    kept = tuple((name, n) for name, n in powers.items() if n)
    if angle is None or not kept or not seen.coefficient or any(abs(n) > POWER_LIMIT for _, n in kept):
        return None
    constant = seen.without(*(base for base, _ in seen.powers if variable in base.symbols()))
    return CircularPowers(
        coefficient=seen.coefficient,
        constants=Constants(times=replace(constant, coefficient=fraction(1, 1)).tree(), over=angle.unit),
        angle=angle,
        powers=kept,
        tidy=_written_once(integrand, len(kept)),
    )


def power_product(argument: Expression, powers: tuple[tuple[str, Fraction], ...]) -> Expression:
    """Powers of functions of one argument as a product, those with negative exponents below a fraction line."""
    bases = tuple((Apply(name, argument), n) for name, n in powers if n)
    return Factored(coefficient=fraction(1, 1), powers=bases).tree()


def spare_letter(integrand: Expression) -> Symbol:
    """The letter for a substitution: u, or the next one that does not occur.

    >>> spare_letter(Symbol("u") ** 2)
    Symbol(name='v')
    """
    used = integrand.symbols()
    numbered = (Symbol(f"u_{number}") for number in count(1))
    return next(letter for letter in chain(_LETTERS, numbered) if letter not in used)


def spare_pair(integrand: Expression) -> tuple[Symbol, Symbol]:
    """The letters for the two functions of integration by parts: u and v, or the next two that do not occur."""
    first = spare_letter(integrand)
    return first, spare_letter(sum_of(integrand, first))


def _power_under_root(base: Expression, exponent: Fraction) -> tuple[Expression, Fraction]:
    """`sqrt(sin^3 x)` as `(sin x)^(3/2)`: both are real exactly where sin x >= 0.

    An even power under an even root is left alone, for it forgets the sign; under an odd root any power is safe.
    """
    match base:
        case Power(inner, Integer(n)) if n % 2 == 1 or exponent.denominator % 2 == 1:
            return inner, exponent * n
        case _:
            return base, exponent


def _written_once(integrand: Expression, functions: int) -> bool:
    applied = sum(1 for node in integrand.walk() if isinstance(node, Apply))
    nested = any(isinstance(node, Power) and isinstance(node.base, Product) for node in integrand.walk())
    return applied == functions and not nested
