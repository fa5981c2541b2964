"""An element as a number times powers of irreducible factors: what roots, logarithms and signs are made from.

    6 x^2 (x - 1)^-1   ->   +1, {2: 1, 3: 1, x: 2, x - 1: -1}

The factors are primes, generators and irreducible polynomials with positive leading number. An exponential and a root
are taken apart no further here. Of a pair of conjugates a + b r and a - b r (r a square root) only the one with
plus signs is kept: the other is their product, which is free of r, divided by it. So `ln(x - sqrt(x^2 - 1))`
and `-ln(x + sqrt(x^2 - 1))` get one form.
"""

from __future__ import annotations

from typing import Any

from flint import fmpz

from qbank.maths.exact.field import Element, Field, Polynomial
from qbank.maths.number_system import NotSettled, Undefined

__all__ = ["Factored", "factor"]

#: sign, then the factors with their whole exponents
Factored = tuple[int, list[tuple[Polynomial, int]]]

#: a polynomial with more terms or a higher degree is not factored
MOST_TERMS = 120
MOST_DEGREE = 120
MOST_BITS = 400


def factor(element: Element) -> Factored:
    """Take an element apart.

    Raises:
        Undefined: when it is zero.
        NotSettled: when it is too large.
    """
    field = element.field
    num = field.reduce(element.num)
    if not num:
        raise Undefined("zero under a root's denominator or a logarithm")
    found: list[tuple[Polynomial, int]] = []
    sign = _collect(field, num, 1, found) * _collect(field, element.den, -1, found)
    return sign, [(part, power) for part, power in found if power]


def _collect(field: Field, polynomial: Polynomial, power: int, found: list[tuple[Polynomial, int]]) -> int:
    """Add the factors of a polynomial to `found`; gives its sign."""
    if polynomial.is_one():
        return 1
    if polynomial.is_constant():
        content, parts = polynomial.leading_coefficient(), []
    elif len(polynomial) > MOST_TERMS or max(polynomial.degrees()) > MOST_DEGREE:
        raise NotSettled("an expression under a root or a logarithm is too large to factor")
    else:
        field.check_time()
        content, parts = _irreducible(polynomial) or polynomial.factor()
    sign = _collect_number(field, int(content), power, found)
    for part, multiplicity in parts:
        if part.leading_coefficient() < 0:
            part = -part  # noqa: PLW2901 - the same factor, with its sign counted
            sign *= -1 if multiplicity % 2 else 1
        times = power * int(multiplicity)
        other = _plain_conjugate(field, part) if field.relations else None
        if other is None:
            _add(found, part, times)
        else:
            mate, norm = other
            _add(found, mate, -times)
            inner = _collect(field, norm, times, found)
            sign *= inner if multiplicity % 2 else 1
    return sign


def _irreducible(polynomial: Polynomial) -> tuple[Any, list[tuple[Polynomial, int]]] | None:
    """The content and the one other factor of a polynomial of first degree; None for others."""
    if polynomial.total_degree() != 1:
        return None
    content = polynomial.content()
    return content, [(polynomial // content, 1)]


def _collect_number(field: Field, number: int, power: int, found: list[tuple[Polynomial, int]]) -> int:
    size = abs(number)
    if size.bit_length() > MOST_BITS:
        raise NotSettled("a number under a root or a logarithm is too large to factor")
    if size > 1:
        limit = None if size.bit_length() <= 64 else 500
        for prime, multiplicity in fmpz(size).factor(trial_limit=limit):
            _add(found, field.context.constant(prime), power * int(multiplicity))
    return -1 if number < 0 else 1


def _add(found: list[tuple[Polynomial, int]], part: Polynomial, power: int) -> None:
    for place, (known, before) in enumerate(found):
        if known == part:
            found[place] = (known, before + power)
            return
    found.append((part, power))


def _plain_conjugate(field: Field, part: Polynomial) -> tuple[Polynomial, Polynomial] | None:
    """For a - b r: the conjugate a + b r (leading numbers positive) and the product of the two; else None."""
    degrees = part.degrees()
    top = next(index for index, degree in enumerate(degrees) if degree)
    relation = field.relations.get(top)
    if relation is None or relation[0] != 2 or degrees[top] != 1 or field.generator_at(top).kind != "root":
        return None
    rest = part.subs({f"g{top}": 0})
    if not rest or rest.leading_coefficient() > 0:
        return None
    mate = part - 2 * rest
    norm = field.times(part, mate)
    return (mate, norm) if norm else None
