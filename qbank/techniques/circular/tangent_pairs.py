"""Integrands seen as powers of tan and sec, or of cot and cosec, however they were written.

sin^2 x / cos^4 x       tan^2 x sec^2 x
1/sin^3 x               cosec^3 x
1/tan^2 x               cot^2 x
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.expression import Expression, Symbol
from qbank.techniques.circular.circular_powers import CircularPowers, circular_powers

__all__ = ["COTANGENT", "TANGENT", "Pair", "Seen", "see_pair"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """A function t and its partner s with s^2 = 1 + t^2, t' = sign * s^2 and s' = sign * s t."""

    tangent: str
    secant: str
    sign: int
    words: tuple[str, str]


TANGENT = Pair(tangent="tan", secant="sec", sign=1, words=("tangent", "secant"))
COTANGENT = Pair(tangent="cot", secant="cosec", sign=-1, words=("cotangent", "cosecant"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """An integrand as `coefficient * t^m s^n` with one of the pairs.

    Attributes:
        written: the integrand as it was seen, in its own functions.
        pair: the functions t and s.
        m: the exponent of t.
        n: the exponent of s.
    """

    written: CircularPowers
    pair: Pair
    m: Fraction
    n: Fraction

    @property
    def direct(self) -> bool:
        """Whether it was written with t and s."""
        return self.written.names <= {self.pair.tangent, self.pair.secant}


def see_pair(integrand: Expression, variable: Symbol) -> Seen | None:
    """The powers of one pair that an integrand is, else None.

    >>> from qbank.maths.expression import cos, sin
    >>> x = Symbol("x")
    >>> seen = see_pair(sin(x) ** 2 / cos(x) ** 4, x)
    >>> seen.pair.tangent, seen.m, seen.n
    ('tan', Fraction(2, 1), Fraction(2, 1))
    """
    written = circular_powers(integrand, variable)
    if written is None:
        return None
    for pair in (TANGENT, COTANGENT):
        if written.names <= {pair.tangent, pair.secant}:
            m, n = written.exponent(pair.tangent), written.exponent(pair.secant)
            if m < 0 and not n:
                # 1/tan^2 is cot^2
                other = TANGENT if pair is COTANGENT else COTANGENT
                return Seen(written=written, pair=other, m=-m, n=n)
            return Seen(written=written, pair=pair, m=m, n=n)
    if not written.whole and not written.names <= {"sin", "cos"}:
        return None
    sine, cosine = written.sine_and_cosine
    pair, m = (COTANGENT, cosine) if sine < 0 <= cosine else (TANGENT, sine)
    return Seen(written=written, pair=pair, m=m, n=-sine - cosine)
