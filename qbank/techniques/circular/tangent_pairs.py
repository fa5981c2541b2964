"""Integrands seen as powers of tan and sec, or of cot and cosec, however they were written.

sin^2 x / cos^4 x       tan^2 x sec^2 x
1/sin^3 x               cosec^3 x
1/tan^2 x               cot^2 x
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.expression import Expression, Symbol
from qbank.messages import say
from qbank.techniques.circular.circular_powers import CircularPowers, circular_powers

__all__ = ["COTANGENT", "TANGENT", "Pair", "PairWords", "Seen", "see_pair"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PairWords:
    """What the teacher says of a function t and its partner s.

    Attributes:
        rewritten: that the integrand is written with t and s.
        identity: what the square of t is.
        one_plus: what the square of s is.
        even: what to do with an even power of s.
        odd: what to do with an odd power of t.
        slope: what the derivative of t is.
        partner_slope: what the derivative of s is.
        by_parts: what is integrated when a power of s is integrated by parts.
    """

    rewritten: str
    identity: str
    one_plus: str
    even: str
    odd: str
    slope: str
    partner_slope: str
    by_parts: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """A function t and its partner s with s^2 = 1 + t^2, t' = sign * s^2 and s' = sign * s t."""

    tangent: str
    secant: str
    sign: int
    words: PairWords


TANGENT = Pair(
    tangent="tan",
    secant="sec",
    sign=1,
    words=PairWords(
        rewritten=say("Write it with tangent and secant."),
        identity=say("Tangent squared is secant squared minus one."),
        one_plus=say("Secant squared is one plus tangent squared."),
        even=say("The power of the secant is even: keep one squared secant for the substitution."),
        odd=say("The power of the tangent is odd: keep one secant times tangent for the substitution."),
        slope=say("The derivative of the tangent is secant squared."),
        partner_slope=say("The derivative of the secant is secant times tangent."),
        by_parts=say("By parts: one squared secant is integrated."),
    ),
)
COTANGENT = Pair(
    tangent="cot",
    secant="cosec",
    sign=-1,
    words=PairWords(
        rewritten=say("Write it with cotangent and cosecant."),
        identity=say("Cotangent squared is cosecant squared minus one."),
        one_plus=say("Cosecant squared is one plus cotangent squared."),
        even=say("The power of the cosecant is even: keep one squared cosecant for the substitution."),
        odd=say("The power of the cotangent is odd: keep one cosecant times cotangent for the substitution."),
        slope=say("The derivative of the cotangent is minus cosecant squared."),
        partner_slope=say("The derivative of the cosecant is minus cosecant times cotangent."),
        by_parts=say("By parts: one squared cosecant is integrated."),
    ),
)


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
