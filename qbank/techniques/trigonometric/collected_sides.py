"""The terms of an answer collected: the angle, logarithms, and one polynomial in u for each power of the root S.

x sqrt(4 - x^2) - 1/4 x^3 sqrt(4 - x^2)     1/4 x (4 - x^2) sqrt(4 - x^2)
ln|2/x + sqrt(4 - x^2)/x|                   ln|(2 + sqrt(4 - x^2))/x|
ln(x/2 + sqrt(x^2 + 4)/2)                   ln(x + sqrt(x^2 + 4)), the constant goes into C
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from math import gcd, lcm
from typing import TypeAlias

from qbank.maths.constant_factor import ONE, split_constant, times
from qbank.maths.expression import Apply, Expression, Integer, Negate, fraction, product, sum_of
from qbank.maths.factors import Factored
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.surds import Surd
from qbank.techniques.quadratics.completed_square import primitive
from qbank.techniques.trigonometric.kinds import SINE, TANGENT
from qbank.techniques.trigonometric.triangle import Sides, Triangle, added

__all__ = ["collected"]

#: a function with a number, or terms with one power of S: those with u above the line, or one with u below
_Group: TypeAlias = "Expression | tuple[int, int]"


def collected(
    terms: tuple[Expression, ...], triangle: Triangle, angle: Expression, constant: Factored, number: Surd
) -> Expression:
    """The terms in the variable.

    Args:
        terms: in functions of t, in t itself and in logarithms.
        triangle: of the substitution.
        angle: what t is in the variable.
        constant: what stands in front of all terms and is no number of the substitution.
        number: the number in front of all terms.

    Raises:
        NotOfTheTriangleError: a term holds something else.
    """
    groups: dict[_Group, Sides] = {}
    for term in terms:
        for group, sides in _grouped(term, triangle, angle):
            groups[group] = added((groups.get(group, {}), sides))
    return sum_of(
        *(
            tree
            for group, sides in groups.items()
            for tree in _written(
                group, {place: c.times(number) for place, c in sides.items()}, triangle, constant
            )
        )
    )


def _grouped(term: Expression, triangle: Triangle, angle: Expression) -> Iterator[tuple[_Group, Sides]]:
    constant, moving = split_constant(term, triangle.letter)
    body = moving.tree()
    if body == triangle.letter:
        yield angle, triangle.sides(constant.tree())
    elif isinstance(body, Apply) and body.function == "ln":
        size, logarithm = _logarithm(body.argument, triangle)
        yield logarithm, {place: c.times(size) for place, c in triangle.sides(constant.tree()).items()}
    else:
        for (i, j), c in _reduced(triangle.sides(term), triangle).items():
            yield (j, min(i, 0)), {(i, j): c}


def _reduced(sides: Sides, triangle: Triangle) -> Sides:
    """Two powers of S for two of u, or the other way round, where that leaves fewer kinds of terms.

    x^3 (4 - x^2)^(3/2) is a polynomial before the root; x^2/(x^2 + 4) is a number, which goes into C, less 4/(x^2 + 4).
    """
    m, u_squared = triangle.root_number.square, triangle.root_number.square / triangle.number.square
    found: Sides = {}
    for (i, j), c in sides.items():
        if triangle.kind == SINE and i > 0 and j > 2:
            parts: Sides = {(i, j - 2): c.times(m), (i + 2, j - 2): c.times(-u_squared)}
        elif triangle.kind == TANGENT and i > 1 and j < 0 and j % 2 == 0:
            parts = {(i - 2, j + 2): c.times(1 / u_squared), (i - 2, j): c.times(-m / u_squared)}
        else:
            found = added((found, {(i, j): c}))
            continue
        found = added((found, _reduced(parts, triangle)))
    return {place: c for place, c in found.items() if place != (0, 0)}


def _logarithm(argument: Expression, triangle: Triangle) -> tuple[Fraction, Expression]:
    """A logarithm without the constants inside, and the number that comes out of it."""
    inside = argument.argument if isinstance(argument, Apply) and argument.function == "abs" else argument
    sides = triangle.sides(inside)
    i, j = (min(place[n] for place in sides) for n in (0, 1))
    if len(sides) == 1 and not i:
        under = triangle.under if triangle.kind == TANGENT else Apply("abs", triangle.under)
        return Fraction(j, 2), Apply("ln", under)
    # the root stands last, with the number 1 unless that makes fractions
    rest = sorted((((k - i, m - j), c) for (k, m), c in sides.items()), key=lambda pair: pair[0][1])
    content, _ = primitive(triangle.square.shift, triangle.square.scale)
    unit = rest[-1][1].reciprocal().times(content.denominator if rest[0][0] == (1, 0) else 1)
    bracket = sum_of(*(triangle.tree(ONE, c.times(unit), place) for place, c in rest))
    outside = Surd(content**-i)
    whole = triangle.tree(ONE, outside, (i, j), _factor(bracket))
    positive = triangle.kind == TANGENT and not i and all(c.rational > 0 for c in sides.values())
    return fraction(1, 1), Apply("ln", whole if positive else Apply("abs", whole))


def _factor(tree: Expression) -> Factored:
    return Factored(coefficient=fraction(1, 1), powers=((tree, fraction(1, 1)),))


def _written(group: _Group, sides: Sides, triangle: Triangle, constant: Factored) -> Iterator[Expression]:
    if isinstance(group, Expression):
        yield from (_before(times(constant, c.factor()), group) for c in sides.values())
        return
    if len(sides) > 1 and len({c.radicand for c in sides.values()}) == 1:
        yield _polynomial(sides, triangle, constant)
        return
    yield from (triangle.tree(constant, c, place) for place, c in sides.items())


def _before(constant: Factored, function: Expression) -> Expression:
    """A constant before a function, as a factor of its own: `2/sqrt(3) arcsin x`."""
    size = replace(constant, coefficient=abs(constant.coefficient)).tree()
    whole = function if size == Integer(1) else product(size, function)
    return Negate(whole) if constant.coefficient < 0 else whole


def _polynomial(sides: Sides, triangle: Triangle, constant: Factored) -> Expression:
    """Terms with one power of S as a number, a power of u, a polynomial with whole coefficients, and S."""
    low, j = min(sides)
    size = max(i for i, _ in sides) - low
    numbers = {i - low: c for (i, _), c in sides.items()}
    letter = triangle.square.letter
    in_u = polynomial_tree(
        tuple(numbers[n].rational if n in numbers else fraction(0, 1) for n in range(size + 1)), letter
    )
    coefficients = as_polynomial(in_u.substitute({letter: triangle.square.inside}), letter)
    assert coefficients is not None  # a polynomial in a linear expression
    below = lcm(*(c.denominator for c in coefficients))
    content = Fraction(gcd(*(int(c * below) for c in coefficients)), below)
    if all(c <= 0 for c in coefficients):
        content = -content
    bracket = polynomial_tree(tuple(c / content for c in coefficients), letter)
    radicand = next(iter(numbers.values())).radicand
    return triangle.tree(
        constant,
        Surd(content, radicand),
        (low, j),
        _factor(bracket),
    )
