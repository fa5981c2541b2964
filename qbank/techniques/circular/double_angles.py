"""Even powers of sine and cosine taken apart by double angles: the reckoning, without any working.

A combination is a sum of numbers times `sin^i(t A) cos^j(t A)`, where A is the angle and t = 1, 2, 4, ...

    sin^2 A = 1/2 (1 - cos 2A)      cos^2 A = 1/2 (1 + cos 2A)      sin A cos A = 1/2 sin 2A
    cos^3 A = (1 - sin^2 A) cos A   for the odd powers met on the way

With sinh and cosh only signs differ: sinh^2 A = 1/2 (-1 + cosh 2A), cosh^3 A = (1 + sinh^2 A) cosh A.

Rounds of these lead to the pieces that can be integrated at sight: 1, cos(tA) and sin^i(tA) cos(tA). `DoubleAngles`
holds the identities as numbers; a slip changes one of them and the rounds run on to the end.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import comb, gcd, lcm
from typing import TypeAlias

from qbank.maths.rationals import fraction

__all__ = [
    "AS_TAUGHT",
    "HYPERBOLIC",
    "Combination",
    "DoubleAngles",
    "Piece",
    "collected",
    "content",
    "is_ready",
]


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Piece:
    """`sin^sine(times * A) cos^cosine(times * A)`; the number 1 has times 0.

    The order is the one in which pieces are written: the number, cosines by their angle, then powers of sines.
    """

    mixed: bool
    times: int
    sine: int
    cosine: int

    @classmethod
    def of(cls, times: int, sine: int, cosine: int) -> Piece:
        """The piece, `1` when both exponents are 0."""
        if not sine and not cosine:
            return cls(mixed=False, times=0, sine=0, cosine=0)
        return cls(mixed=sine > 0 and cosine > 0, times=times, sine=sine, cosine=cosine)


Combination: TypeAlias = tuple[tuple[Piece, Fraction], ...]
Signs: TypeAlias = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubleAngles:
    """The identities, as a student remembers them; the defaults are right for sine and cosine.

    Attributes:
        of_sine: `(first, second)` in sin^2 A = 1/2 (first + second cos 2A).
        of_cosine: the same for cos^2 A.
        odd: `(first, second)` in cos^2 A = first + second sin^2 A.
        half: the number in front.
        factor: by which the angle is multiplied.
        middle: False where (1 - c)^2 is expanded without its middle term.
        power: False where the identity replaces a whole power as if it were a square.
    """

    of_sine: Signs = (1, -1)
    of_cosine: Signs = (1, 1)
    odd: Signs = (1, -1)
    half: Fraction = Fraction(1, 2)
    factor: int = 2
    middle: bool = True
    power: bool = True

    def round(self, combination: Combination) -> Combination:
        """One round: every piece that is not ready is taken apart once, like pieces collected."""
        return collected(
            (piece, number * part)
            for whole, number in combination
            for piece, part in (self.apart(whole) if not is_ready(whole) else ((whole, fraction(1, 1)),))
        )

    def apart(self, piece: Piece) -> Combination:
        """A piece that is not ready, by the double angles or, for an odd power, by sin^2 + cos^2 = 1."""
        if piece.cosine % 2:
            first, second = self.odd
            k = piece.cosine // 2
            return tuple(
                (
                    Piece.of(piece.times, piece.sine + 2 * j, 1),
                    fraction(comb(k, j) * first ** (k - j) * second**j, 1),
                )
                for j in range(k + 1)
            )
        common = min(piece.sine, piece.cosine)
        pairs = abs(piece.sine - piece.cosine) // 2
        signs = self.of_cosine if piece.cosine > piece.sine else self.of_sine
        if not self.power:
            pairs = min(pairs, 1)
        front = self.half ** (common + pairs)
        times = piece.times * self.factor
        return tuple((Piece.of(times, common, j), front * c) for j, c in self._binomial(pairs, signs))

    def _binomial(self, pairs: int, signs: Signs) -> tuple[tuple[int, int], ...]:
        """`(first + second c)^pairs` as exponents of c with their numbers."""
        first, second = signs
        if pairs >= 2 and not self.middle:
            return (0, first), (pairs, second)
        return tuple((j, comb(pairs, j) * first ** (pairs - j) * second**j) for j in range(pairs + 1))

    def finished(self, start: Combination) -> Combination:
        """As many rounds as it takes."""
        while not all(is_ready(piece) for piece, _ in start):
            start = self.round(start)
        return start


AS_TAUGHT = DoubleAngles()

HYPERBOLIC = DoubleAngles(of_sine=(-1, 1), odd=(1, 1))


def is_ready(piece: Piece) -> bool:
    """Whether a piece can be integrated at sight: 1, cos(tA), or sin^i(tA) cos(tA)."""
    return piece.cosine == 1 or not piece.times


def collected(terms: Iterable[tuple[Piece, Fraction]]) -> Combination:
    """Like pieces added, zeros dropped, in the order of writing."""
    totals: dict[Piece, Fraction] = {}
    for piece, number in terms:
        totals[piece] = totals.get(piece, fraction(0, 1)) + number
    return tuple((piece, totals[piece]) for piece in sorted(totals) if totals[piece])


def content(combination: Combination) -> Fraction:
    """The positive number that leaves whole numbers without a common factor when taken out.

    >>> content(((Piece.of(0, 0, 0), Fraction(3, 8)), (Piece.of(2, 0, 1), Fraction(-1, 2))))
    Fraction(1, 8)
    """
    numbers = [number for _, number in combination]
    return Fraction(gcd(*(n.numerator for n in numbers)), lcm(*(n.denominator for n in numbers)))
