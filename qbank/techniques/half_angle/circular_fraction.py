"""An integrand seen as a constant times a fraction of circular functions of multiples of one angle.

3/(5 - 4 cos x)           3, angle x
1/(a + a sin(2x + 1))     1/a, angle 2x + 1
sin x/cos 2x              1, angle x of which 2x is a multiple
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import gcd, lcm

from qbank.maths.constant_factor import split_constant, times
from qbank.maths.expression import Apply, E, Expression, Power, Sum, Symbol, fraction, sum_of
from qbank.maths.factors import Factored, factored
from qbank.techniques.circular.angles import Angle, as_angle
from qbank.techniques.circular.circular_powers import CIRCULAR, HYPERBOLIC
from qbank.techniques.half_angle.circle import Circle, Value, value_of

__all__ = ["CircularFraction", "circular_fraction"]

#: integrands with more functions than this are nobody's exercise
_FUNCTION_LIMIT = 24

_HYPERBOLIC = {*HYPERBOLIC, "exp"}
#: a product of these is no fraction
_PLAIN = {"sin", "cos", "sinh", "cosh", "exp"}


@dataclass(frozen=True, slots=True, kw_only=True)
class CircularFraction:
    """`constant * core`.

    Attributes:
        constant: the constant in front.
        core: a fraction of circular functions with rational numbers.
        angle: the angle whose multiples occur.
        multiples: each argument with its multiple.
        names: the functions that occur.
    """

    constant: Factored
    core: Expression
    angle: Angle
    multiples: tuple[tuple[Expression, int], ...]
    names: frozenset[str]

    def value(self, circle: Circle) -> Value | None:
        """The fraction in a letter; None when it grows too large."""
        return _value_in(self.core, self.multiples, circle)

    @property
    def single(self) -> bool:
        """Whether only the angle itself occurs, no multiple of it."""
        return all(n == 1 for _, n in self.multiples)


@lru_cache(maxsize=256)
def _value_in(
    core: Expression, multiples: tuple[tuple[Expression, int], ...], circle: Circle
) -> Value | None:
    return value_of(core, dict(multiples), circle)


@lru_cache(maxsize=64)
def circular_fraction(
    integrand: Expression, variable: Symbol, *, hyperbolic: bool = False
) -> CircularFraction | None:
    """The fraction of circular functions that an integrand is, else None.

    A sum is left to those who take it term by term, and so is what has nothing below a line.

    Args:
        integrand: any expression.
        variable: the variable of the angle.
        hyperbolic: whether hyperbolic functions are looked for, and exponentials beside them.

    >>> from qbank.maths.expression import cos
    >>> x = Symbol("x")
    >>> seen = circular_fraction(6 / (4 + 4 * cos(x)), x)
    >>> seen.angle.tree == x, seen.names
    (True, frozenset({'cos'}))
    """
    constant, core = _without_constants(integrand, variable)
    if isinstance(core, Sum):
        return None
    found = [pair for node in core.walk() if (pair := _function(node)) is not None]
    names = frozenset(name for name, _ in found)
    if not 0 < len(found) <= _FUNCTION_LIMIT or not names <= (_HYPERBOLIC if hyperbolic else set(CIRCULAR)):
        return None
    # without a function there is nothing to do here, and a product without a fraction is for others
    if names <= {"exp"} or (names <= _PLAIN and all(n > 0 for _, n in factored(core).powers)):
        return None
    seen = _angles(tuple(dict.fromkeys(argument for _, argument in found)), variable)
    if seen is None:
        return None
    angle, multiples = seen
    return CircularFraction(constant=constant, core=core, angle=angle, multiples=multiples, names=names)


def _function(node: Expression) -> tuple[str, Expression] | None:
    """A function with its argument; an exponential is one too."""
    match node:
        case Apply(name, argument):
            return name, argument
        case Power(base, exponent) if base == E:
            return "exp", exponent
        case _:
            return None


def _without_constants(integrand: Expression, variable: Symbol) -> tuple[Factored, Expression]:
    """What stands in front, also of each bracket: `1/(a + a sin x)` is 1/a times `1/(1 + sin x)`."""
    constant, moving = split_constant(integrand, variable)
    parts, kept = [constant], list[Factored]()
    for base, n in moving.powers:
        common, rest = _common(base, variable) if n.denominator == 1 else (None, base)
        if common is not None:
            parts.append(Factored(coefficient=fraction(1, 1), powers=tuple((b, e * n) for b, e in common)))
        kept.append(Factored(coefficient=fraction(1, 1), powers=((rest, n),)))
    return times(*parts), times(*kept).tree()


def _common(
    base: Expression, variable: Symbol
) -> tuple[tuple[tuple[Expression, Fraction], ...] | None, Expression]:
    """The letters that every term of a sum is multiplied by, and the sum without them."""
    if not isinstance(base, Sum):
        return None, base
    split = [split_constant(term, variable) for term in base.terms]
    letters = split[0][0].powers
    if not letters or any(set(fixed.powers) != set(letters) for fixed, _ in split):
        return None, base
    numbers = (Factored(coefficient=fixed.coefficient, powers=()) for fixed, _ in split)
    terms = (times(number, moving).tree() for number, (_, moving) in zip(numbers, split, strict=True))
    return letters, sum_of(*terms)


def _angles(
    arguments: tuple[Expression, ...], variable: Symbol
) -> tuple[Angle, tuple[tuple[Expression, int], ...]] | None:
    """The angle of which all arguments are multiples, and which multiples they are."""
    angles = [as_angle(argument, variable) for argument in arguments]
    known = [angle for angle in angles if angle is not None]
    if len(known) < len(angles):
        return None
    first = known[0]
    if all(angle.same_as(first) for angle in known):
        return first, tuple((argument, 1) for argument in arguments)
    if any(angle.moving != first.moving for angle in known):
        return None
    slopes = [angle.slope for angle in known]
    common = Fraction(gcd(*(s.numerator for s in slopes)), lcm(*(s.denominator for s in slopes)))
    written = (angle for angle in known if angle.slope == common)
    base = next(written, None) or as_angle(first.times(common / first.slope).tree, variable)
    multiples = [int(s / common) for s in slopes]
    if base is None or any(
        not angle.same_as(base.times(n)) for angle, n in zip(known, multiples, strict=True)
    ):
        return None
    return base, tuple(zip(arguments, multiples, strict=True))
