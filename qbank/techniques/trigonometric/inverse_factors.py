"""The factors of an integrand with an inverse circular function in it, each written with the angle t that it is.

x^2, sqrt(1 - 4x^2) beside arcsin 2x      1/4 sin^2 t, cos t
c + a^2 c x^2 beside arctan(a x)          c sec^2 t
x beside arctan(a + b x)                  (tan t - a)/b
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from qbank.maths.constant_factor import ONE, number, over, times
from qbank.maths.expression import Apply, Expression, Integer, Negate, Sum, Symbol, fraction, sum_of
from qbank.maths.factors import Factored, factored, power_tree
from qbank.maths.polynomial import as_polynomial
from qbank.maths.tidying import tidy
from qbank.techniques.standard.linear_inner import Inner
from qbank.techniques.trigonometric.inverse_kinds import InverseKind
from qbank.techniques.trigonometric.kinds import powers_tree

__all__ = ["FactorsSeen", "is_pure", "raised"]

#: larger powers are nobody's exercise
_POWER_LIMIT = 12


@dataclass(slots=True, kw_only=True)
class FactorsSeen:
    """The factors of an integrand, as they are seen one after another.

    Attributes:
        angle: the inverse function.
        letter: t.
        kind: which inverse function it is.
        inner: g.
        constant: what stands in front.
        parts: what the inverse function stands in, t in its place.
        sums: x, where g has something added to it.
        powers: of functions of t.
        under: the quadratic and the multiple of 1 - g^2 that it is.
        odd: whether its root occurs.
    """

    angle: Expression
    letter: Symbol
    kind: InverseKind
    inner: Inner
    constant: list[Factored] = field(default_factory=list)
    parts: list[Factored] = field(default_factory=list)
    sums: list[Factored] = field(default_factory=list)
    powers: dict[str, int] = field(default_factory=dict)
    under: tuple[Expression, Factored] | None = None
    odd: bool = False

    def add(self, base: Expression, n: Fraction) -> bool:
        """See one factor; False where it is no function of t."""
        variable = self.inner.variable
        if variable not in base.symbols():
            self.constant.append(single(base, n))
            return True
        if self.angle in base.walk():
            moved = base.replaced(self.angle, self.letter)
            self.parts.append(single(moved, n))
            return variable not in moved.symbols()
        if abs(n) > _POWER_LIMIT:
            return False
        if base == variable and n.denominator == 1 and is_pure(self.inner):
            self._power(over(self.inner.slope), n, self.kind.inner, n)
            return True
        if base == variable and n.denominator == 1 and n > 0:
            shift = tidy(self.inner.tree.substitute({variable: Integer(0)}))
            moved = sum_of(Apply(self.kind.inner, self.letter), tidy(Negate(shift)))
            self.constant.append(raised(over(self.inner.slope), n))
            self.sums.append(single(moved, n))
            return True
        size = _multiple(base, self.kind, self.inner)
        if size is None or n.denominator > 2 or (self.under is not None and self.under[0] != base):
            return False
        if n.denominator == 2 and (self.kind.one_sign is None or (not size.powers and size.coefficient <= 0)):
            # a multiple with letters is positive wherever the root is real
            return False
        self.under, self.odd = (base, size), self.odd or n.denominator == 2
        self._power(size, n, self.kind.root, 2 * n)
        return True

    def outer(self, rate: Mapping[str, int]) -> Expression:
        """The product in t, times what dx brings."""
        names = (*self.powers, *(name for name in rate if name not in self.powers))
        powers = {name: self.powers.get(name, 0) + rate.get(name, 0) for name in names}
        kept = powers_tree({name: n for name, n in powers.items() if n}, self.letter)
        return times(*self.parts, *self.sums, factored(kept)).tree()

    def _power(self, size: Factored, n: Fraction, name: str, exponent: Fraction) -> None:
        self.constant.append(raised(size, n))
        self.powers[name] = self.powers.get(name, 0) + int(exponent)


def single(base: Expression, exponent: Fraction) -> Factored:
    return Factored(coefficient=fraction(1, 1), powers=((base, exponent),))


def raised(size: Factored, n: Fraction) -> Factored:
    """A constant or a product to a power; a root of it stays one root."""
    if size == ONE:
        return ONE
    if n.denominator == 1:
        return Factored(
            coefficient=size.coefficient ** int(n), powers=tuple((base, e * n) for base, e in size.powers)
        )
    return factored(power_tree(size.tree(), n))


def is_pure(inner: Inner) -> bool:
    """Whether g is a multiple of x, nothing added."""
    return factored(inner.tree).exponent(inner.variable) == 1


def _multiple(base: Expression, kind: InverseKind, inner: Inner) -> Factored | None:
    """What number of times 1 - g^2 (or the like) the base is; None when it is no multiple of it."""
    if not isinstance(base, Sum):
        return None
    one, squared = kind.signs
    polynomial, g = as_polynomial(base, inner.variable), as_polynomial(inner.tree, inner.variable)
    if polynomial is not None and g is not None:
        shift, slope = g
        wanted = (one + squared * shift**2, 2 * squared * shift * slope, squared * slope**2)
        size = polynomial[-1] / wanted[-1]
        return number(size) if tuple(c * size for c in wanted) == tuple(polynomial) else None
    fixed = [term for term in base.terms if inner.variable not in term.symbols()]
    moving = [term for term in base.terms if inner.variable in term.symbols()]
    if len(fixed) != 1 or len(moving) != 1 or not is_pure(inner):
        return None
    scale = times(factored(fixed[0]), number(one))
    expected = times(scale, number(squared), raised(factored(inner.tree), fraction(2, 1)))
    seen = factored(moving[0])
    same = seen.coefficient == expected.coefficient and set(seen.powers) == set(expected.powers)
    return scale if same else None
