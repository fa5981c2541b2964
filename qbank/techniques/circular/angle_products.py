"""Products of sines and cosines of different angles as sums: the numbers of the working, and of a student's.

sin A cos B = 1/2 (sin(A + B) + sin(A - B))
cos A cos B = 1/2 (cos(A + B) + cos(A - B))
sin A sin B = 1/2 (cos(A - B) - cos(A + B))

A product of more than two is taken two at a time.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from qbank.maths.expression import Apply, Expression, Integer, Power, Symbol, fraction, product
from qbank.maths.factors import Factored, factored
from qbank.techniques.circular.angle_sums import AngleSum, angle_sum

__all__ = [
    "AS_TAUGHT",
    "AngleProduct",
    "Combination",
    "Factors",
    "Identities",
    "angle_product",
    "is_ready",
    "product_tree",
]

#: larger products are nobody's exercise
_FACTOR_LIMIT = 5

Name: TypeAlias = Literal["sin", "cos"]
#: sines and cosines that are multiplied; in a combination those of constant angles come along
Factors: TypeAlias = tuple[tuple[Name, AngleSum], ...]
Combination: TypeAlias = tuple[tuple[Factors, Fraction], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Identities:
    """The identities as a student remembers them; any change is a slip.

    Attributes:
        half: the number in front.
        sign: 1, or -1 when the sign between the two terms is the wrong one.
        swapped: whether sines are taken for cosines on the right side.
    """

    half: Fraction = Fraction(1, 2)
    sign: int = 1
    swapped: bool = False

    @staticmethod
    def chosen(factors: Factors) -> tuple[tuple[Name, AngleSum], tuple[Name, AngleSum], Factors]:
        """The two moving factors that are taken apart next, and the others."""
        rest = list(factors)
        first, second = [one for one in factors if one[1].moving][:2]
        rest.remove(first)
        rest.remove(second)
        return first, second, tuple(rest)

    def apart(self, first: tuple[Name, AngleSum], second: tuple[Name, AngleSum]) -> Combination:
        """The product of two as a combination, without the number in front."""
        (name, angle), (other, beside) = (
            (second, first) if (first[0], second[0]) == ("cos", "sin") else (first, second)
        )
        both: Name = "cos" if name == other else "sin"
        shown: Name = both if not self.swapped else ("sin" if both == "cos" else "cos")
        total, gap = angle.plus(beside, 1), angle.plus(beside, -1)
        if name == other == "sin":
            found = (_signed(shown, gap, 1), _signed(shown, total, -self.sign))
        else:
            found = (_signed(shown, total, 1), _signed(shown, gap, self.sign))
            found = found[::-1] if gap.is_zero else found
        return tuple((((name, angle),), Fraction(sign)) for name, angle, sign in found)

    def round(self, combination: Combination) -> Combination:
        """Every product of two moving factors taken apart once, multiplied out, like terms collected."""
        found: list[tuple[Factors, Fraction]] = []
        for factors, c in combination:
            if is_ready(factors):
                found.append((factors, c))
                continue
            first, second, rest = self.chosen(factors)
            for piece, d in self.apart(first, second):
                found.append(((*piece, *rest), self.half * c * d))
        return _collected(found)

    def finished(self, combination: Combination) -> Combination:
        """As many rounds as it takes."""
        while not all(is_ready(factors) for factors, _ in combination):
            combination = self.round(combination)
        return combination


AS_TAUGHT = Identities()


@dataclass(frozen=True, slots=True, kw_only=True)
class AngleProduct:
    """`constant * product of sines and cosines`.

    Attributes:
        constant: what stands in front.
        factors: the sines and cosines, a square as two of them, in order of first appearance.
    """

    constant: Factored
    factors: Factors


def angle_product(integrand: Expression, variable: Symbol, *, different: bool = True) -> AngleProduct | None:
    """A product of sines and cosines, else None.

    Args:
        integrand: any expression.
        variable: what the angles depend on.
        different: whether at least two of the angles are to be different.

    >>> from qbank.maths.expression import cos, sin
    >>> x = Symbol("x")
    >>> len(angle_product(3 * sin(x) ** 2 * cos(5 * x), x).factors)
    3
    """
    seen = factored(integrand)
    factors: list[tuple[Name, AngleSum]] = []
    moving: list[Expression] = []
    for base, n in seen.powers:
        if variable not in base.symbols():
            continue
        match base:
            case Apply("sin" | "cos" as name, argument) if n.denominator == 1 and 0 < n <= _FACTOR_LIMIT:
                angle = angle_sum(argument, variable)
                if angle is None:
                    return None
                factors += [(name, angle)] * int(n)
                moving.append(base)
            case _:
                return None
    least = 2 if different else 1
    if len(factors) > _FACTOR_LIMIT or len({angle.rising for _, angle in factors}) < least:
        return None
    return AngleProduct(constant=seen.without(*moving), factors=tuple(factors))


def is_ready(factors: Factors) -> bool:
    """Whether at most one factor moves, so that it can be integrated at sight."""
    return sum(bool(angle.moving) for _, angle in factors) < 2


def product_tree(factors: Factors) -> Expression:
    """The product, equal factors as a power; 1 of none."""
    found: dict[Expression, int] = {}
    for name, angle in factors:
        base = Apply(name, angle.tree)
        found[base] = found.get(base, 0) + 1
    return product(*(base if n == 1 else Power(base, Integer(n)) for base, n in found.items()))


def _signed(name: Name, angle: AngleSum, sign: int) -> tuple[Name, AngleSum, int]:
    """With the positive number first in the angle: cos(-x) is cos x, sin(-x) is -sin x."""
    return name, angle.rising, -sign if angle.falls and name == "sin" else sign


def _collected(terms: list[tuple[Factors, Fraction]]) -> Combination:
    found: dict[Factors, Fraction] = {}
    for factors, c in terms:
        if any(name == "sin" and angle.is_zero for name, angle in factors):
            continue
        kept = tuple(one for one in factors if not one[1].is_zero)
        found[kept] = found.get(kept, fraction(0, 1)) + c
    return tuple((factors, c) for factors, c in found.items() if c)
