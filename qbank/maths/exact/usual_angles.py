"""Exact cosine and sine of rational multiples of pi that have them in square roots: pi/3, pi/4, pi/5, pi/8, pi/12, ...

An angle pi a/b with b = 2^i 3^j 5^k (j, k at most 1) is a sum of multiples of pi/2^i, pi/3 and pi/5; pi/2^i comes
from halving. cos(pi/5) = (1 + sqrt 5)/4 (Euclid XIII, the golden section).
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from qbank.maths.exact.field import Element
from qbank.maths.rationals import fraction

if TYPE_CHECKING:
    from qbank.maths.exact.system import Exact

__all__ = ["usual_angle"]

HALF = fraction(1, 2)
MOST_HALVINGS = 5


def usual_angle(system: Exact, multiple: Fraction) -> tuple[Element, Element] | None:
    """Cosine and sine of `multiple` times pi, or None when they have no such form."""
    multiple %= 2
    split = _split(multiple)
    if split is None:
        return None
    cosine, sine = system.field.one, system.field.zero
    for part in split:
        c, s = _first_turn(system, part)
        cosine, sine = cosine * c - sine * s, sine * c + cosine * s
    return cosine, sine


def _split(multiple: Fraction) -> list[Fraction] | None:
    """The multiple as a sum of multiples of 1/2^i, 1/3 and 1/5 that are not whole."""
    parts: list[Fraction] = []
    rest, order = multiple, multiple.denominator
    for prime in (3, 5):
        if order % prime == 0:
            other = order // prime
            if other % prime == 0:
                return None
            # a/(p m) = u/p + v/m with u m = a modulo p
            part = Fraction(multiple.numerator * pow(other, -1, prime) % prime, prime)
            parts.append(part)
            rest -= part
    power = rest.denominator
    if power & (power - 1) or power.bit_length() - 1 > MOST_HALVINGS:
        return None
    return [*parts, rest % 2]


def _first_turn(system: Exact, multiple: Fraction) -> tuple[Element, Element]:
    """Cosine and sine for a multiple below 2, from the first quadrant."""
    quarter, rest = divmod(multiple, HALF)
    cosine, sine = _first_quadrant(system, rest)
    for _ in range(quarter):
        cosine, sine = -sine, cosine
    return cosine, sine


def _first_quadrant(system: Exact, multiple: Fraction) -> tuple[Element, Element]:
    field = system.field
    if not multiple:
        return field.one, field.zero
    if multiple > fraction(1, 4):
        cosine, sine = _first_quadrant(system, HALF - multiple)
        return sine, cosine
    if multiple == fraction(1, 4):
        root = system.power(field.number(2), HALF) / 2
        return root, root
    if multiple == fraction(1, 6):
        return system.power(field.number(3), HALF) / 2, field.number(HALF)
    if multiple.denominator in (5, 10):
        return _fifth(system, multiple)
    double, _ = _first_quadrant(system, 2 * multiple)
    return system.power((1 + double) / 2, HALF), system.power((1 - double) / 2, HALF)


def _fifth(system: Exact, multiple: Fraction) -> tuple[Element, Element]:
    """pi/5 and pi/10."""
    root = system.power(system.field.number(5), HALF)
    cosine = (1 + root) / 4
    if multiple == fraction(1, 10):
        sine = (root - 1) / 4
        return system.power(1 - sine * sine, HALF), sine
    return cosine, system.power(1 - cosine * cosine, HALF)
