"""Polynomials in one letter with rational coefficients, recognised in a tree and written back in order.

Coefficients are tuples from the constant upwards: `3 - 2x + x^2` is `(3, -2, 1)`.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, TypeVar

from qbank.maths.expression import (
    Expression,
    Integer,
    Negate,
    Number,
    Power,
    Product,
    Quotient,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    product,
    rational,
    sum_of,
)

if TYPE_CHECKING:
    from qbank.maths.parametric import Parametric

__all__ = [
    "DEGREE_LIMIT",
    "added",
    "as_linear",
    "as_monomial",
    "as_polynomial",
    "divided_by",
    "monomial_tree",
    "multiplied",
    "polynomial_tree",
]

#: a polynomial of a higher degree is not recognised, so that no power costs more than a moment
DEGREE_LIMIT = 64
#: trees of which it is remembered what polynomials they are
_REMEMBERED = 2048

Coefficients = tuple[Fraction, ...]

#: the numbers that coefficients may be: those with letters in them too
_Coefficient = TypeVar("_Coefficient", Fraction, "Parametric")


def divided_by(
    over: tuple[_Coefficient, ...], under: tuple[_Coefficient, ...]
) -> tuple[tuple[_Coefficient, ...], tuple[_Coefficient, ...]]:
    """Quotient and remainder of two polynomials, the remainder without zeros at the end.

    Args:
        over: what is divided.
        under: by what; its last coefficient is not zero.

    >>> one = Fraction(1)
    >>> divided_by((-one, 0 * one, one), (one, one))
    ((Fraction(-1, 1), Fraction(1, 1)), ())
    """
    left, whole = list(over), list[_Coefficient]()
    while len(left) >= len(under):
        top = left[-1] / under[-1]
        whole.insert(0, top)
        for place, c in enumerate(reversed(under), start=1):
            left[-place] -= top * c
        left.pop()
    while left and not left[-1]:
        left.pop()
    return tuple(whole), tuple(left)


@lru_cache(maxsize=_REMEMBERED)
def as_polynomial(tree: Expression, variable: Symbol) -> Coefficients | None:
    """The coefficients of a polynomial in `variable`, lowest first and without a trailing zero, else None.

    Args:
        tree: any expression; sums, products, powers and division by numbers are followed.
        variable: the letter.

    Returns:
        A tuple (empty for the zero polynomial), or None when the tree is not a polynomial with rational
        coefficients of degree at most `DEGREE_LIMIT`.

    >>> x = Symbol("x")
    >>> as_polynomial((x + 1) ** 2 / 2, x)
    (Fraction(1, 2), Fraction(1, 1), Fraction(1, 2))
    """
    number = as_fraction(tree)
    if number is not None:
        return _trim((number,))
    match tree:
        case Symbol():
            return (fraction(0, 1), fraction(1, 1)) if tree == variable else None
        case Negate(operand):
            inner = as_polynomial(operand, variable)
            return None if inner is None else tuple(-c for c in inner)
        case Sum(terms):
            return _fold(terms, variable, added)
        case Product(factors):
            return _fold(factors, variable, multiplied)
        case Quotient(numerator, denominator):
            over, under = as_polynomial(numerator, variable), as_polynomial(denominator, variable)
            if over is None or under is None or len(under) != 1:
                return None
            return tuple(c / under[0] for c in over)
        case Power(base, exponent):
            return _power(as_polynomial(base, variable), as_fraction(exponent))
        case _:
            return None


def _fold(
    parts: tuple[Expression, ...],
    variable: Symbol,
    combine: Callable[[Coefficients, Coefficients], Coefficients],
) -> Coefficients | None:
    result: Coefficients | None = None
    for part in parts:
        inner = as_polynomial(part, variable)
        if inner is None:
            return None
        result = inner if result is None else combine(result, inner)
        if len(result) > DEGREE_LIMIT + 1:
            return None
    return result


def _power(base: Coefficients | None, exponent: Fraction | None) -> Coefficients | None:
    if base is None or exponent is None or exponent.denominator != 1 or exponent < 0:
        return None
    if len(base) <= 1 and exponent > DEGREE_LIMIT:
        return None
    if (len(base) - 1) * exponent > DEGREE_LIMIT:
        return None
    result: Coefficients = (fraction(1, 1),)
    for _ in range(int(exponent)):
        result = multiplied(result, base)
    return result


def _trim(values: tuple[Fraction, ...]) -> Coefficients:
    end = len(values)
    while end and values[end - 1] == 0:
        end -= 1
    return values[:end]


def added(left: Coefficients, right: Coefficients) -> Coefficients:
    """The sum of two polynomials.

    >>> added((1, 2), (1, -2)) == (2,)
    True
    """
    size = max(len(left), len(right))
    zero = fraction(0, 1)
    padded = (side + (zero,) * (size - len(side)) for side in (left, right))
    return _trim(tuple(a + b for a, b in zip(*padded, strict=True)))


def multiplied(left: Coefficients, right: Coefficients) -> Coefficients:
    """The product of two polynomials.

    >>> multiplied((1, 1), (-1, 1)) == (-1, 0, 1)
    True
    """
    if not left or not right:
        return ()
    result = [fraction(0, 1)] * (len(left) + len(right) - 1)
    for i, a in enumerate(left):
        for j, b in enumerate(right):
            result[i + j] += a * b
    return _trim(tuple(result))


def as_linear(tree: Expression, variable: Symbol) -> tuple[Fraction, Fraction] | None:
    """`(a, b)` when the tree is `a x + b` with `a` not zero, else None.

    >>> as_linear(3 * Symbol("x") + 1, Symbol("x"))
    (Fraction(3, 1), Fraction(1, 1))
    """
    coefficients = as_polynomial(tree, variable)
    if coefficients is None or len(coefficients) != 2:
        return None
    return coefficients[1], coefficients[0]


def as_monomial(tree: Expression) -> tuple[Fraction, Symbol | None, int] | None:
    """`(coefficient, letter, degree)` of a term written as a monomial: `3`, `-x`, `2x^3`, `x^2/5`; else None."""
    number = as_fraction(tree)
    if number is not None:
        return number, None, 0
    match tree:
        case Symbol():
            return fraction(1, 1), tree, 1
        case Power(Symbol() as letter, Integer(degree)) if degree > 0:
            return fraction(1, 1), letter, degree
        case Negate(operand):
            inner = as_monomial(operand)
            return None if inner is None else (-inner[0], *inner[1:])
        case Product((first, second)):
            number, inner = as_fraction(first), as_monomial(second)
            return (
                None
                if number is None or inner is None or inner[1] is None
                else (number * inner[0], *inner[1:])
            )
        case Quotient(numerator, denominator):
            inner, number = as_monomial(numerator), as_fraction(denominator)
            return None if not number or inner is None else (inner[0] / number, *inner[1:])
        case _:
            return None


def monomial_tree(coefficient: Number, letter: Symbol, degree: int) -> Expression:
    """`c x^n` as a teacher writes it: no factor 1, no exponent 1, the minus sign outside."""
    power: Expression = letter if degree == 1 else Power(letter, Integer(degree))
    if degree == 0 or not coefficient:
        return rational(coefficient)
    size = -coefficient if coefficient < 0 else coefficient
    body = power if size == 1 else product(rational(size), power)
    return Negate(body) if coefficient < 0 else body


def polynomial_tree(coefficients: tuple[Number, ...], letter: Symbol) -> Expression:
    """A polynomial in a teacher's order: highest power first, unless only the lowest term is positive (`1 - x^2`).

    >>> from qbank.maths.expression import Symbol
    >>> polynomial_tree((1, 0, -1), Symbol("x"))
    Sum(terms=(Integer(value=1), Negate(operand=Power(base=Symbol(name='x'), exponent=Integer(value=2)))))
    """
    present = [(degree, c) for degree, c in enumerate(coefficients) if c]
    if not present:
        return Integer(0)
    if not (present[-1][1] < 0 < present[0][1]):
        present.reverse()
    return sum_of(*(monomial_tree(c, letter, degree) for degree, c in present))
