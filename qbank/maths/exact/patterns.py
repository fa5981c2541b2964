"""The last step of a proof where signs are left over: is the difference zero for every pattern of signs that occurs?

    sqrt((1 - x)/(1 + x))   is real where the signs of 1 - x and 1 + x agree; both negative cannot be

A pattern gives each sign generator +1 or -1. It does not occur when two factors would need signs that contradict each
other (a positive combination of them is negative), or when all factors in one generator never have these signs at
one place (seen from their real roots, inside the domain asked about).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import combinations, product
from typing import Any

from flint import arb, fmpq, fmpz_poly

from qbank.maths.balls import precision, to_ball
from qbank.maths.decimals import bounds
from qbank.maths.exact.field import Element, Field, Generator, Polynomial
from qbank.maths.exact.signs import definite_sign
from qbank.maths.rationals import fraction

__all__ = ["Ends", "same_where_real"]

#: the ends of the domain, None at infinity
Ends = tuple[Fraction | None, Fraction | None]

MOST_SIGNS = 6
MOST_DEGREE = 40


def same_where_real(left: Element, right: Element, variable: str, ends: Ends) -> bool:
    """Whether two elements agree wherever both are real, inside the domain.

    Args:
        left: one element.
        right: the other.
        variable: the letter that runs over the domain.
        ends: the ends of the domain.
    """
    field = left.field
    first, second = field.times(left.num, right.den), field.times(right.num, left.den)
    difference = field.reduce(first - second)
    if not difference:
        return True
    signs = [g for g in field.generators if g.kind == "sign"]
    degrees = difference.degrees()
    if not any(degrees[g.index] for g in signs):
        return False
    free = [g for g in signs if field.relations[g.index][0] == 2]
    if len(free) > MOST_SIGNS:
        return False
    occurring = _occurring_by_generator(field, signs, variable, ends)
    for values in product((1, -1), repeat=len(free)):
        pattern = {g.index: value for g, value in zip(free, values, strict=True)}
        rest = difference.subs({f"g{index}": value for index, value in pattern.items()})
        if rest and _may_occur(field, signs, _completed(field, signs, pattern), occurring):
            return False
    return True


def _completed(field: Field, signs: list[Generator], pattern: dict[int, int]) -> dict[int, int]:
    """The pattern with the signs that are products of others."""
    whole = dict(pattern)
    for generator in signs:
        if generator.index not in whole:
            bound = field.reduce(field.context.gen(generator.index))
            value = bound.subs({f"g{index}": sign for index, sign in pattern.items()})
            whole[generator.index] = int(value.leading_coefficient())
    return whole


def _may_occur(
    field: Field,
    signs: list[Generator],
    pattern: Mapping[int, int],
    occurring: list[tuple[list[int], set[tuple[int, ...]]]],
) -> bool:
    for indices, patterns in occurring:
        if tuple(pattern[index] for index in indices) not in patterns:
            return False
    for first, second in combinations(signs, 2):
        p, q = pattern[first.index] * first.meaning, pattern[second.index] * second.meaning
        a, b = p.leading_coefficient(), q.leading_coefficient()
        if a * b < 0 and p.monoms()[0] == q.monoms()[0]:
            together = abs(b) * p + abs(a) * q
            if not together or definite_sign(field, together) < 0:
                return False
    return True


def _occurring_by_generator(
    field: Field, signs: list[Generator], variable: str, ends: Ends
) -> list[tuple[list[int], set[tuple[int, ...]]]]:
    """For each generator: the sign generators of factors in it alone, and their patterns that occur."""
    groups: dict[int, list[Generator]] = {}
    for sign in signs:
        used = [index for index, degree in enumerate(sign.meaning.degrees()) if degree]
        if len(used) == 1 and sign.meaning.degrees()[used[0]] <= MOST_DEGREE:
            groups.setdefault(used[0], []).append(sign)
    found: list[tuple[list[int], set[tuple[int, ...]]]] = []
    for index, members in groups.items():
        limits = _range(field, field.generator_at(index), variable, ends)
        polynomials = [_dense(sign.meaning, index) for sign in members]
        found.append(([sign.index for sign in members], _patterns(polynomials, limits)))
    return found


def _range(field: Field, generator: Generator, variable: str, ends: Ends) -> Ends:
    """Between which numbers a generator runs."""
    if generator.positive:
        return fraction(0, 1), None
    if generator.kind == "letter" and generator.meaning == variable:
        return ends
    if generator.kind == "half tangent" and None not in ends:
        inner = generator.meaning
        letter = field.find("letter", lambda g: bool(g.meaning == variable))
        if letter is not None and inner.den.is_one() and inner.num == field.context.gen(letter.index):
            return _tangents(generator.unit / 2, ends)
    return None, None


def _tangents(rate: Fraction, ends: Ends) -> Ends:
    """The tangents of both ends, when no pole lies between."""
    lower, upper = (fraction(0, 1) if end is None else end * rate for end in ends)
    with precision(128):
        low, high, quarter = to_ball(lower), to_ball(upper), arb.pi() / 2
        if not (low > -quarter and high < quarter):
            return None, None
        return bounds(low.tan())[0], bounds(high.tan())[1]


def _dense(polynomial: Polynomial, index: int) -> Any:
    numbers = [0] * (int(polynomial.degrees()[index]) + 1)
    for powers, number in polynomial.terms():
        numbers[int(powers[index])] = number
    return fmpz_poly(numbers)


def _patterns(polynomials: list[Any], limits: Ends) -> set[tuple[int, ...]]:
    """The signs of polynomials (without common roots) between each two neighbouring real roots."""
    whole = fmpz_poly([1])
    for polynomial in polynomials:
        whole = whole * polynomial
    patterns: set[tuple[int, ...]] = set()
    for place in _places(whole, limits):
        point = fmpq(place.numerator, place.denominator)
        patterns.add(tuple(1 if polynomial(point) > 0 else -1 for polynomial in polynomials))
    return patterns


def _places(polynomial: Any, limits: Ends) -> Iterator[Fraction]:
    """A rational number in each gap between the real roots, as far as the gaps reach between the limits."""
    lower, upper = limits
    with precision(128):
        roots = sorted(
            (bounds(root.real) for root, _ in polynomial.complex_roots() if root.imag == 0),
            key=lambda r: r[0],
        )
    low_ends: list[Fraction | None] = [None, *(root[1] for root in roots)]
    high_ends: list[Fraction | None] = [*(root[0] for root in roots), None]
    for low, high in zip(low_ends, high_ends, strict=True):
        if (lower is None or high is None or high > lower) and (upper is None or low is None or low < upper):
            yield _between(low, high)


def _between(low: Fraction | None, high: Fraction | None) -> Fraction:
    if low is None:
        return fraction(0, 1) if high is None else high - 1
    return low + 1 if high is None else (low + high) / 2
