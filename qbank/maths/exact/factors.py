"""An element as a number times powers of irreducible factors: what roots, logarithms and signs are made from.

    6 x^2 (x - 1)^-1   ->   +1, {2: 1, 3: 1, x: 2, x - 1: -1}

The factors are primes, generators and irreducible polynomials with positive leading number. An exponential and a root
are taken apart no further here. Of a pair of conjugates a + b r and a - b r (r^2 free of r) only the one with
plus signs is kept: the other is their product, which is free of r, divided by it. So `ln(x - sqrt(x^2 - 1))`
and `-ln(x + sqrt(x^2 - 1))` get one form.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import gcd
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
        content, parts = polynomial.leading_coefficient(), list[tuple[Polynomial, int]]()
    elif len(polynomial) > MOST_TERMS or max(polynomial.degrees()) > MOST_DEGREE:
        raise NotSettled("an expression under a root or a logarithm is too large to factor")
    else:
        field.check_time()
        content, parts = _irreducible(polynomial) or _factors(field, polynomial)
    sign = _collect_number(field, int(content), power, found)
    for part, multiplicity in parts:
        if part.leading_coefficient() < 0:
            part = -part  # noqa: PLW2901 - the same factor, with its sign counted
            sign *= -1 if multiplicity % 2 else 1
        times = power * int(multiplicity)
        finer = _in_roots(field, part) if field.relations else None
        if finer is not None:
            inner = _collect(field, finer[0], times, found) * _collect(field, finer[1], times, found)
            sign *= inner if multiplicity % 2 else 1
            continue
        other = _plain_conjugate(field, part) if field.relations else None
        if other is None:
            _add(found, part, times)
        else:
            mate, norm = other
            _add(found, mate, -times)
            inner = _collect(field, norm, times, found)
            sign *= inner if multiplicity % 2 else 1
    return sign


def _in_roots(field: Field, part: Polynomial) -> tuple[Polynomial, Polynomial] | None:
    """Two factors of a polynomial in a letter and its root, `r - x` as `r (1 - r)`; None where there are none.

    The letter is put as the power of its root, where a relation says that it is one.
    """
    degrees = part.degrees()
    letters = field.context.gens()
    for index, order in _roots(field, degrees):
        for place, letter in enumerate(letters):
            if degrees[place] and field.relations[index][1] == letters[index] ** order - letter:
                whole = part.compose(*letters[:place], letters[index] ** order, *letters[place + 1 :])
                first = _first_factor(field, whole, index)
                if first is not None:
                    return field.reduce(first), field.reduce(whole // first)
    return None


def _first_factor(field: Field, whole: Polynomial, index: int) -> Polynomial | None:
    least = min(int(powers[index]) for powers in whole.monoms())
    if least:
        return field.context.gen(index) ** least
    _, parts = _factors(field, whole)
    return parts[0][0] if sum(int(times) for _, times in parts) > 1 else None


def _roots(field: Field, degrees: tuple[int, ...]) -> Iterator[tuple[int, int]]:
    """The roots that occur, each with its order."""
    for index, (order, _) in field.relations.items():
        if degrees[index] and field.generator_at(index).kind == "root":
            yield index, order


def _factors(field: Field, polynomial: Polynomial) -> tuple[Any, list[tuple[Polynomial, int]]]:
    """The content and the factors, in the highest power of each root that will do: x^(1/2) - 1 is not taken apart.

    Its factors in x^(1/4) would be found here and not where x^(1/2) is the root.
    """
    strides = [1] * field.size
    for index, order in _roots(field, polynomial.degrees()):
        strides[index] = gcd(order, *(int(powers[index]) for powers in polynomial.monoms()))
    if max(strides) == 1:
        return polynomial.factor()  # type: ignore[no-any-return]
    content, parts = polynomial.deflate(strides).factor()
    whole = []
    for part, times in parts:
        if len(part) == 1:  # one generator: a root to the power of its stride
            whole.append((part, int(times) * strides[part.degrees().index(1)]))
        else:
            whole.append((part.inflate(strides), int(times)))
    return content, whole


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
    """For a - b q: the conjugate a + b q (leading numbers positive) and the product of the two; else None.

    The q is a root of even order, or the power of one that is, and a and b hold q^2 at most.
    """
    degrees = part.degrees()
    top = next(index for index, degree in enumerate(degrees) if degree)
    order = next((order for index, order in _roots(field, degrees) if index == top), 1)
    stride = gcd(order, *(int(powers[top]) for powers in part.monoms()))
    if order // stride % 2:
        return None
    even = {powers: number for powers, number in part.terms() if not powers[top] // stride % 2}
    rest = field.context.from_dict(even)
    if not rest or rest.leading_coefficient() > 0:
        return None
    mate = part - 2 * rest
    norm = field.times(part, mate)
    return (mate, norm) if norm else None
