"""Where an integral is improper: an infinite limit, or a place without a value; and the pieces that follow from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from qbank.maths.deciding import exact_value
from qbank.maths.enclosing import enclose
from qbank.maths.ends import BadLimit, as_limit, points_inside
from qbank.maths.expression import Expression, Integer, Integral, Negate, Symbol, sum_of
from qbank.maths.growth import is_exact
from qbank.maths.limiting import INFINITE, tree_of
from qbank.maths.number_system import Undefined
from qbank.techniques.definites.leaf import ends

__all__ = ["Piece", "has_value", "is_improper", "pieces"]

#: for the end on the left, and for that on the right
_LETTERS = (("a", "c", "p"), ("b", "k", "q"))


def is_improper(integral: Integral) -> bool:
    """Whether a limit is infinite, or the integrand has no value somewhere from limit to limit."""
    return bool(_places(integral))


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One stretch that stops short of one of its ends.

    Attributes:
        integral: up to the letter.
        letter: what stands for the end.
        to: the end.
        side: from which side the letter tends to it, 0 at an infinity.
    """

    integral: Integral
    letter: Symbol
    to: Expression
    side: int


def pieces(integral: Integral, of: Expression | None = None) -> Iterator[Piece]:
    """The stretches of an improper integral, from left to right; none where it is proper.

    Args:
        integral: with limits.
        of: what has no value at the places where it is taken apart; the integrand, or an antiderivative.
    """
    places = _places(integral, of)
    if places:
        yield from (_piece(integral, low, high, places) for low, high in pairwise(_cuts(integral, places)))


def _piece(integral: Integral, low: Expression, high: Expression, places: list[Expression]) -> Piece:
    """One stretch with its letter at the end where it stops short."""
    at_upper = high in places
    letter = next(Symbol(name) for name in _LETTERS[at_upper] if Symbol(name) not in integral.symbols())
    ends_of = (low, letter) if at_upper else (letter, high)
    to = high if at_upper else low
    side = 0 if to in INFINITE else -1 if at_upper else 1
    return Piece(
        integral=Integral(integral.integrand, integral.variable, *ends_of), letter=letter, to=to, side=side
    )


def _cuts(integral: Integral, places: list[Expression]) -> list[Expression]:
    """The limits and the places between them, and a number between two places that are neighbours."""
    lower, upper = ends(integral)
    inner = [place for place in places if place not in (lower, upper)]
    cuts = [lower, *inner, upper]
    found = [lower]
    for low, high in pairwise(cuts):
        if low in places and high in places:
            found.append(_between(low, high))
        found.append(high)
    return found


def _between(low: Expression, high: Expression) -> Expression:
    """A friendly number between two ends."""
    if low in INFINITE and high in INFINITE:
        return Integer(0)
    finite = low if high in INFINITE else high
    step = 1 if high in INFINITE else -1
    if low in INFINITE or high in INFINITE:
        return exact_value(sum_of(finite, Integer(1) if step > 0 else Negate(Integer(1))))
    return exact_value(sum_of(low, high) / 2)


def _places(integral: Integral, of: Expression | None = None) -> list[Expression]:
    """The infinite limits and the places without a value, from left to right; none where a limit is a letter."""
    lower, upper = ends(integral)
    tree = integral.integrand if of is None else of
    if lower.symbols() | upper.symbols():
        return []
    try:
        start, end = as_limit(lower), as_limit(upper)
    except BadLimit:
        return []
    # places that are known as balls only cannot be written
    inside = [
        tree_of(point.at)
        for point in points_inside(tree, integral.variable, start, end)
        if is_exact(point.at)
    ]
    found = [lower, *inside, upper]
    at = integral.variable
    return [place for place in found if place in INFINITE or not has_value(tree.substitute({at: place}))]


def has_value(tree: Expression) -> bool:
    """Whether a constant has a real value."""
    try:
        exact_value(tree)
    except Undefined:
        return False
    return enclose(tree, at={}) is not None
