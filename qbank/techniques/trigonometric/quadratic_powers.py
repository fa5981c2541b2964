"""An integrand seen as powers of u, linear in the variable, times a power of the root of a quadratic in u.

x^2/(4 - x^2)^(3/2)        u = x,        u^2 and the root to the -3
x sqrt(x^2 + 2x + 5)       u = x + 1,    u - 1 and the root to the 1
sqrt(4x^2 - 9)/x           u = 2x,       2 u^(-1) and the root to the 1
1/(x^2 + 4)^2              u = x,        the root to the -4
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.constant_factor import split_constant
from qbank.maths.expression import Expression, Integer, Power, Symbol, fraction
from qbank.maths.factors import Factored
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.techniques.quadratics.completed_square import CompletedSquare, complete_square

__all__ = ["QuadraticPowers", "quadratic_powers"]

Coefficients = tuple[Fraction, ...]

#: higher powers, and longer polynomials beside the root, are nobody's exercise
_ROOT_LIMIT = 9
_POWER_LIMIT = 8
_TERM_LIMIT = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class QuadraticPowers:
    """`constant * (sum of number * u^exponent) * sqrt(under)^power`.

    Attributes:
        variable: x.
        constant: what stands in front.
        moving: the rest, as it was written.
        under: the quadratic, as it was written.
        square: the quadratic with its square completed; u is what is squared.
        terms: the exponents of u, each with its number, the highest first.
        power: of the root: odd, or even and negative.
    """

    variable: Symbol
    constant: Factored
    moving: Factored
    under: Expression
    square: CompletedSquare
    terms: tuple[tuple[int, Fraction], ...]
    power: int

    def is_under(self, base: Expression) -> bool:
        """Whether a base of the integrand is the quadratic."""
        return as_polynomial(base, self.variable) == as_polynomial(self.under, self.variable)


def quadratic_powers(integrand: Expression, variable: Symbol) -> QuadraticPowers | None:
    """The powers of an integrand of this kind, else None.

    >>> from qbank.maths.expression import sqrt
    >>> x = Symbol("x")
    >>> seen = quadratic_powers(x / sqrt(3 - 2 * x - x**2), x)
    >>> seen.square.shift, seen.terms, seen.power
    (Fraction(1, 1), ((1, Fraction(1, 1)), (0, Fraction(-1, 1))), -1)
    """
    constant, moving = split_constant(integrand, variable)
    moving = Factored(
        coefficient=fraction(1, 1), powers=tuple(_without_root(*pair) for pair in moving.powers)
    )
    under = _quadratic(moving, variable)
    coefficients = None if under is None else as_polynomial(under, variable)
    if under is None or coefficients is None or not constant.coefficient:
        return None
    square = complete_square(coefficients, variable)
    if square is None or (square.factor < 0 < square.number):
        return None
    found = _sorted(moving, coefficients, square)
    if found is None:
        return None
    terms, power = found
    even = square.factor > 0 and square.number > 0 and power <= -4
    if abs(power) > _ROOT_LIMIT or not (power % 2 or even):
        return None
    if len(terms) > 1 and not square.shift and any(exponent % 2 for exponent, _ in terms):
        return None  # the terms apart are shorter: an odd power is the derivative of the quadratic times an even one
    return QuadraticPowers(
        variable=variable,
        constant=constant,
        moving=moving,
        under=under,
        square=square,
        terms=terms,
        power=power,
    )


def _without_root(base: Expression, exponent: Fraction) -> tuple[Expression, Fraction]:
    """`sqrt((4 - x^2)^3)` as `(4 - x^2)^(3/2)`; an even power under a root is left alone, for it forgets the sign."""
    match base:
        case Power(inner, Integer(n)) if n % 2 and exponent.denominator == 2:
            return inner, exponent * n
        case _:
            return base, exponent


def _quadratic(moving: Factored, variable: Symbol) -> Expression | None:
    """The quadratic under the root; without a root, the one with the lowest power."""
    lowest = sorted(moving.powers, key=lambda pair: (pair[1].denominator != 2, pair[1]))
    return next((base for base, _ in lowest if len(as_polynomial(base, variable) or ()) == 3), None)


def _sorted(
    moving: Factored, under: Coefficients, square: CompletedSquare
) -> tuple[tuple[tuple[int, Fraction], ...], int] | None:
    """The terms in u and the power of the root, or None when something else stands there."""
    power, low = fraction(0, 1), 0
    whole: Coefficients = (fraction(1, 1),)
    for base, n in moving.powers:
        here = as_polynomial(base, square.letter)
        if here is None:
            return None
        if here == under:
            power += 2 * n
            continue
        in_u = _in_u(here, square)
        if n.denominator != 1:
            return None
        if len(in_u) == 2 and not in_u[0]:
            low += int(n)
            whole = tuple(c * in_u[1] ** int(n) for c in whole)
        elif n > 0:
            raised = as_polynomial(
                polynomial_tree(whole, square.letter) * polynomial_tree(in_u, square.letter) ** int(n),
                square.letter,
            )
            if raised is None:
                return None
            whole = raised
        else:
            return None
    terms = tuple((low + place, c) for place, c in reversed(tuple(enumerate(whole))) if c)
    if power.denominator != 1 or not 1 <= len(terms) <= _TERM_LIMIT:
        return None
    if any(abs(exponent) > _POWER_LIMIT for exponent, _ in terms):
        return None
    return terms, int(power)


def _in_u(coefficients: Coefficients, square: CompletedSquare) -> Coefficients:
    """A polynomial in x written in u."""
    # u takes the place of the letter: x = (u - shift)/scale
    letter = square.letter
    x = polynomial_tree((-square.shift / square.scale, 1 / square.scale), letter)
    found = as_polynomial(polynomial_tree(coefficients, letter).substitute({letter: x}), letter)
    assert found is not None  # a polynomial in a linear expression
    return found
