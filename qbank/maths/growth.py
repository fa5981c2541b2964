"""How fast things grow: the scale exp(P(y)) y^p (ln y)^q for y from some Y to infinity.

Rigorous tails of integrals need one thing: a bound that holds for EVERY y beyond Y. A `Growth` is one
step of the scale; P is a finite sum of c y^r (ln y)^k that tends to infinity, faster than ln y. Quotients of two
growths are growths, so which of two wins is read off, and `Beyond.falls` shows that a growth only falls from Y on.

Coefficients are polynomials in pi with rational coefficients where possible (`fmpq_poly`; zero is then decided,
since pi is transcendental), and real balls (`arb`) otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import zip_longest
from typing import Any, TypeAlias

from flint import arb, fmpq, fmpq_poly

__all__ = [
    "ONE",
    "Beyond",
    "Coefficient",
    "Growth",
    "TooSoon",
    "Undecided",
    "exact",
    "is_exact",
    "is_zero",
    "minus",
    "number",
    "plus",
    "sign",
    "times",
]

#: `fmpq_poly` in pi, or `arb`; python-flint has no types
Coefficient: TypeAlias = Any
Ball: TypeAlias = Any


class Undecided(ArithmeticError):  # noqa: N818 - an outcome, not a fault
    """Growth that this scale cannot express or compare; the text says what."""


class TooSoon(ArithmeticError):  # noqa: N818 - an outcome, not a fault
    """A bound that may hold further out but was not shown from this Y on."""


def exact(value: Fraction | int, pi_multiple: Fraction | int = 0) -> Coefficient:
    """The exact coefficient `value + pi_multiple * pi`."""
    parts = [fmpq(Fraction(part).numerator, Fraction(part).denominator) for part in (value, pi_multiple)]
    return fmpq_poly(parts)


def number(value: Coefficient) -> Ball:
    """The real ball of a coefficient at the working precision."""
    if not isinstance(value, fmpq_poly):
        return value
    total = arb(0)
    for part in reversed(value.coeffs()):
        total = total * arb.pi() + arb(part)
    return total


def plus(left: Coefficient, right: Coefficient) -> Coefficient:
    """The sum, exact when both are."""
    if isinstance(left, fmpq_poly) and isinstance(right, fmpq_poly):
        return left + right
    return number(left) + number(right)


def times(left: Coefficient, right: Coefficient) -> Coefficient:
    """The product, exact when both are."""
    if isinstance(left, fmpq_poly) and isinstance(right, fmpq_poly):
        return left * right
    return number(left) * number(right)


def minus(value: Coefficient) -> Coefficient:
    """The negative."""
    return -value


def is_exact(value: Coefficient) -> bool:
    """Whether a coefficient is a polynomial in pi, not a ball."""
    return isinstance(value, fmpq_poly)


def is_zero(value: Coefficient) -> bool:
    """Whether a coefficient is 0.

    Raises:
        Undecided: when it is a ball about 0, which may or may not be 0.
    """
    if isinstance(value, fmpq_poly):
        return not value
    if value.is_zero():
        return True
    if value.contains(0):
        raise Undecided("a coefficient is 0 to all digits carried, which is no proof that it is 0")
    return False


def sign(value: Coefficient) -> int:
    """The sign of a coefficient that is not 0."""
    if isinstance(value, fmpq_poly) and value.degree() == 0:
        return 1 if value[0] > 0 else -1
    return 1 if number(value) > 0 else -1


@dataclass(frozen=True, slots=True)
class Growth:
    """exp(P(y)) y^power (ln y)^logs.

    Attributes:
        exponent: the terms (r, k, c) of P(y) = sum of c y^r (ln y)^k, fastest first, no c zero.
        power: the power of y.
        logs: the power of ln y.
    """

    exponent: tuple[tuple[Fraction, Fraction, Coefficient], ...] = ()
    power: Fraction = Fraction(0)
    logs: Fraction = Fraction(0)

    def __mul__(self, other: Growth) -> Growth:
        if not other.exponent:
            return Growth(self.exponent, self.power + other.power, self.logs + other.logs)
        return Growth(
            _merged(self.exponent, other.exponent), self.power + other.power, self.logs + other.logs
        )

    def __truediv__(self, other: Growth) -> Growth:
        return self * other**-1

    def __pow__(self, index: Fraction | int) -> Growth:
        factor = Fraction(index)
        if not factor:
            return ONE
        scaled = tuple((r, k, times(c, exact(factor))) for r, k, c in self.exponent)
        return Growth(scaled, self.power * factor, self.logs * factor)

    @property
    def trend(self) -> int:
        """1 when it tends to infinity, -1 when it tends to 0, 0 when it is constantly 1."""
        if self.exponent:
            return sign(self.exponent[0][2])
        return (self.power > 0) - (self.power < 0) or (self.logs > 0) - (self.logs < 0)

    def compare(self, other: Growth) -> int:
        """1 when this one is faster, -1 when it is slower, 0 when they are equal."""
        for (r, k, c), (s, m, d) in zip_longest(self.exponent, other.exponent, fillvalue=_NOTHING):
            if (r, k) != (s, m):
                return sign(c) if (r, k) > (s, m) else -sign(d)
            if c is not d and not is_zero(gap := plus(c, minus(d))):
                return sign(gap)
        mine, its = (self.power, self.logs), (other.power, other.logs)
        return (mine > its) - (mine < its)


ONE = Growth()
_ZERO = fmpq_poly([])
_NOTHING = (Fraction(0), Fraction(0), _ZERO)


def _merged(
    left: tuple[tuple[Fraction, Fraction, Coefficient], ...],
    right: tuple[tuple[Fraction, Fraction, Coefficient], ...],
) -> tuple[tuple[Fraction, Fraction, Coefficient], ...]:
    found: dict[tuple[Fraction, Fraction], Coefficient] = {}
    for r, k, c in (*left, *right):
        found[r, k] = plus(found[r, k], c) if (r, k) in found else c
    kept = ((r, k, c) for (r, k), c in found.items() if not is_zero(c))
    return tuple(sorted(kept, key=lambda term: (term[0], term[1]), reverse=True))


@dataclass(frozen=True, slots=True)
class Beyond:
    """The half line y >= start on which all bounds hold.

    Attributes:
        start: where it begins, at least 3 (so that ln y > 1).
    """

    start: int

    @property
    def log(self) -> Ball:
        """The logarithm of the start."""
        return arb(self.start).log()

    def value(self, growth: Growth) -> Ball:
        """A growth at the start itself."""
        return self._log_value(growth).exp()

    def _log_value(self, growth: Growth) -> Ball:
        log = self.log
        total = _rational(growth.power) * log + _rational(growth.logs) * log.log()
        for r, k, c in growth.exponent:
            total += number(c) * (_rational(r) * log).exp() * log ** _rational(k)
        return total

    def falls(self, growth: Growth) -> bool:
        """Whether a growth is shown never to rise from the start on.

        The sign of y d/dy of its logarithm is that of its fastest term, once all others together are smaller: each
        of their quotients y^-a (ln y)^b with it falls from Y on when b <= a ln Y.
        """
        slopes: dict[tuple[Fraction, Fraction], Ball] = {
            (Fraction(0), Fraction(0)): _rational(growth.power),
            (Fraction(0), Fraction(-1)): _rational(growth.logs),
        }
        for r, k, c in growth.exponent:
            for key, factor in (((r, k), r), ((r, k - 1), k)):
                slopes[key] = slopes.get(key, arb(0)) + number(c) * _rational(factor)
        terms = sorted(((r, k, size) for (r, k), size in slopes.items() if not size.is_zero()), key=_speed)
        if not terms:
            return True
        lead_r, lead_k, lead = terms.pop()
        others = arb(0)
        for r, k, size in terms:
            gap, rise = _rational(lead_r - r), _rational(k - lead_k)
            if not rise <= gap * self.log:
                return False
            others += abs(size) * (-gap * self.log).exp() * self.log**rise
        return bool(lead < 0 and others <= -lead)

    def range(self, growth: Growth) -> Ball:
        """A ball that holds all values of a growth that does not rise.

        Raises:
            Undecided: for a growth that tends to infinity.
            TooSoon: when it is not shown to fall from here on.
        """
        if growth.trend == 0:
            return arb(1)
        if growth.trend > 0:
            raise Undecided("a quantity without bound where a bound is needed")
        if not self.falls(growth):
            raise TooSoon
        return arb(0).union(self.value(growth))


def _speed(term: tuple[Fraction, Fraction, Ball]) -> tuple[Fraction, Fraction]:
    return term[:2]


def _rational(value: Fraction) -> Ball:
    return arb(fmpq(value.numerator, value.denominator))
