"""The numbers of a polynomial over `h^2 x^4 + b x^2 + k^2` where the squares of the roots are not rational.

The even powers above the line are a multiple of `h x^2 + k` and one of `h x^2 - k`; odd powers go with the square of x.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import gcd, lcm

from qbank.maths.expression import (
    Apply,
    Expression,
    Negate,
    Power,
    Product,
    Quotient,
    Symbol,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import factored
from qbank.maths.polynomial import as_polynomial
from qbank.maths.surds import square_root
from qbank.techniques.fractions.biquadratic_parts import EvenPart
from qbank.techniques.quadratics.over_quadratic import Coefficients, OverQuadratic, over_quadratic
from qbank.techniques.quadratics.polynomial_division import cancelled, divided

__all__ = ["BiquadraticPlan", "biquadratic_plan"]

_ZERO = fraction(0, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class BiquadraticPlan:
    """`whole + even parts + odd part`.

    Attributes:
        start: the fraction before any division, with anything common cancelled.
        left: the fraction after it.
        whole: the whole part, lowest first; empty when none was divided off.
        factor: what is taken out of the denominator.
        even: the even powers above the line: over `h x^2 + k`, over `h x^2 - k`, or both.
        odd: coefficients of x and x^3 above the line that are left, (0, 0) when there are none.
    """

    start: OverQuadratic
    left: OverQuadratic
    whole: Coefficients
    factor: Fraction
    even: tuple[EvenPart, ...]
    odd: tuple[Fraction, Fraction]

    @property
    def letter(self) -> Symbol:
        """The variable."""
        return self.left.letter

    @property
    def front(self) -> Fraction:
        """The number in front, with what was taken out of the denominator."""
        return self.left.front / self.factor

    @property
    def under(self) -> Expression:
        """The denominator without that number, as it was written where there is none."""
        return self.left.under_tree if self.factor == 1 else self.even[0].under

    def even_terms(self) -> tuple[Expression, ...]:
        """The integral of the even powers, equal inverse tangents collected."""
        first = self.even[0]
        if len(self.even) == 1 or not first.has_real_squares:
            return tuple(term for part in self.even for term in part.terms())
        numbers = zip(*(part.arctan_numbers() for part in self.even), strict=True)
        sums = (sum_of(*(number.tree() for number in pair)) for pair in numbers)
        pairs = zip(sums, first.arguments(), strict=True)
        return tuple(product(size, Apply("arctan", argument)) for size, argument in pairs)

    def is_pure_logarithm(self) -> bool:
        """Whether one substitution does all of it."""
        return len(self.even) == 1 and self.even[0].is_logarithm and not any(self.odd)


# a solution's slips ask for its plan one after the other
@lru_cache(maxsize=64)
def biquadratic_plan(integrand: Expression, variable: Symbol) -> BiquadraticPlan | None:
    """The numbers of an integrand of this kind, else None.

    >>> x = Symbol("x")
    >>> plan = biquadratic_plan(1 / (x**4 + 1), x)
    >>> [(part.size, part.sign) for part in plan.even]
    [(Fraction(1, 2), 1), (Fraction(-1, 2), -1)]
    """
    if not isinstance(integrand, (Quotient, Product, Negate, Power)):
        return None
    # the degree below the line, before anything is put together
    below = [(as_polynomial(base, variable), n) for base, n in factored(integrand).powers if n.numerator < 0]
    if sum(-n * (len(whole or ()) - 1) for whole, n in below) < 4:
        return None
    seen = over_quadratic(integrand, variable, fraction(1, 1))
    if seen is None or len(seen.under) < 5:
        return None
    start = cancelled(seen)
    whole, left = divided(start)
    if left is None or len(left.under) != 5:
        return None
    last, first, middle, third, top = left.under
    if first or third or last * top <= 0:
        return None
    for factor in (_content(left.under), top):
        outer, inner = _rational_root(top / factor), _rational_root(last / factor)
        if outer is None or inner is None or (outer != 1 and middle / factor > 2 * outer * inner):
            continue
        return _split(start, left, whole, factor, (outer, inner))
    return None


def _split(
    start: OverQuadratic,
    left: OverQuadratic,
    whole: Coefficients,
    factor: Fraction,
    roots: tuple[Fraction, Fraction],
) -> BiquadraticPlan | None:
    outer, inner = roots
    n0, n1, n2, n3 = (*left.over, _ZERO, _ZERO, _ZERO)[:4]
    with_plus, with_minus = (n2 / outer + n0 / inner) / 2, (n2 / outer - n0 / inner) / 2
    middle = left.under[2] / factor
    # the squares of the roots of the denominator are rational, or the factors are equal
    plus, minus = 2 * outer * inner + middle, 2 * outer * inner - middle
    if not (plus and minus) or (plus * minus < 0 and _rational_root(-plus * minus) is not None):
        return None
    parts = tuple(
        EvenPart(
            letter=left.letter,
            size=left.front / factor * size,
            sign=sign,
            outer=outer,
            inner=inner,
            middle=middle,
        )
        for size, sign in ((with_plus, 1), (with_minus, -1))
        if size
    )
    if not parts or square_root(abs(plus)) is None or square_root(abs(minus)) is None:
        return None
    return BiquadraticPlan(start=start, left=left, whole=whole, factor=factor, even=parts, odd=(n1, n3))


def _content(under: Coefficients) -> Fraction:
    """The greatest number that leaves whole coefficients, the first of them positive."""
    below = lcm(*(c.denominator for c in under))
    above = gcd(*(int(c * below) for c in under))
    return Fraction(above, below) * (1 if under[-1] > 0 else -1)


def _rational_root(value: Fraction) -> Fraction | None:
    root = square_root(value) if value > 0 else None
    return root.rational if root is not None and root.radicand == 1 else None
