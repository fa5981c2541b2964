"""The three substitutions, each for one way in which a square and a number stand under the root.

sqrt(k^2 - u^2)    u = k sin t    k cos t    t from -pi/2 to pi/2
sqrt(u^2 + k^2)    u = k tan t    k sec t    t between -pi/2 and pi/2
sqrt(u^2 - k^2)    u = k sec t    k tan t    t between 0 and pi/2, so u > k
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.expression import Expression, Symbol
from qbank.techniques.circular.circular_powers import CIRCULAR, power_product
from qbank.techniques.quadratics.completed_square import CompletedSquare

__all__ = ["SECANT", "SINE", "TANGENT", "Kind", "kind_of", "powers_tree", "sine_and_cosine"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One of the three.

    Attributes:
        inner: the function that u is a multiple of.
        root: the function that the root is a multiple of.
        rate: the derivative of the inner function, as powers of functions.
        inverse: the inverse function that t is.
    """

    inner: str
    root: str
    rate: tuple[tuple[str, int], ...]
    inverse: str


SINE = Kind(inner="sin", root="cos", rate=(("cos", 1),), inverse="arcsin")
TANGENT = Kind(inner="tan", root="sec", rate=(("sec", 2),), inverse="arctan")
SECANT = Kind(inner="sec", root="tan", rate=(("sec", 1), ("tan", 1)), inverse="arccos")


def kind_of(square: CompletedSquare) -> Kind:
    """The substitution for a quadratic with its square completed."""
    if square.factor < 0:
        return SINE
    return TANGENT if square.number > 0 else SECANT


def sine_and_cosine(powers: Mapping[str, int]) -> tuple[int, int]:
    """The exponents when everything is written in these two."""
    sine, cosine = (sum(n * CIRCULAR[name][place] for name, n in powers.items()) for place in (0, 1))
    return sine, cosine


def powers_tree(powers: Mapping[str, int], letter: Symbol) -> Expression:
    """A product of powers as a teacher writes it, with no more functions and fraction lines than it needs.

    1/sec^2 t is cos^2 t, sin^2 t/cos^2 t is tan^2 t, sec t/tan^2 t is cosec t cot t.

    >>> from qbank.maths.expression import cos
    >>> powers_tree({"sec": -2}, Symbol("t")) == cos(Symbol("t")) ** 2
    True
    >>> powers_tree({"tan": 2, "sec": -1}, Symbol("t")).denominator
    Apply(function='sec', argument=Symbol(name='t'))
    """
    if any(n < 0 for n in powers.values()):
        sine, cosine = sine_and_cosine(powers)
        if sine >= 0 and sine + cosine <= 0:
            powers = {"tan": sine, "sec": -sine - cosine} if cosine < 0 else {}
        elif cosine >= 0 and sine + cosine <= 0:
            powers = {"cosec": -sine - cosine, "cot": cosine}
        elif sine < 0 or cosine >= 0 or not powers.keys() <= {"tan", "sec"}:
            powers = {"sin": sine, "cos": cosine}
    return power_product(letter, tuple((name, Fraction(n)) for name, n in powers.items()))
