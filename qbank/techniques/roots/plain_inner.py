"""A bracket or an exponential as the new letter, where no root is: both are roots of index 1 to what follows.

x (1 - x)^9            u = 1 - x      x = 1 - u,   dx = -du
x (x + 1)^n            u = x + 1      x = u - 1,   dx = du
x^2/(2x + 1)^4         u = 2x + 1     x = (u - 1)/2, dx = 1/2 du
1/(e^x + e^(-x))       u = e^x        dx = 1/u du
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import gcd, lcm

from qbank.maths.constant_factor import number
from qbank.maths.expression import E, Expression, Power, Symbol, as_fraction
from qbank.maths.factors import factored
from qbank.maths.letter_exponents import has_letter_exponent
from qbank.maths.polynomial import as_linear, as_polynomial
from qbank.maths.tidying import scaled
from qbank.techniques.roots.radicals import Radical, radical_of, rate_of_exponential

__all__ = ["plain_inner"]

#: a bracket to a lower power is multiplied out, and few factors below the line go by partial fractions
_LEAST_ABOVE, _LEAST_BELOW = 4, 3
#: a polynomial of a higher degree beside the bracket is nobody's exercise
_MOST_BESIDE = 3


def plain_inner(integrand: Expression, variable: Symbol) -> Radical | None:
    """The bracket or exponential to substitute, or None.

    >>> x = Symbol("x")
    >>> plain_inner(x * (1 - x) ** 9, x).slope.coefficient
    Fraction(-1, 1)
    """
    return _bracket(integrand, variable) or _exponential(integrand, variable)


def _bracket(integrand: Expression, variable: Symbol) -> Radical | None:
    """The bracket of a polynomial times a high power of it, or times one with a letter for exponent."""
    found: Radical | None = None
    beside = 0
    for base, n in factored(integrand).powers:
        if variable not in base.symbols():
            continue
        bracket = _raised(base, n, variable) if n.denominator == 1 else None
        coefficients = as_polynomial(base, variable)
        if bracket is not None:
            if found is not None:
                return None
            found = bracket
        elif coefficients is not None and n.denominator == 1 and n > 0:
            beside += (len(coefficients) - 1) * int(n)
        else:
            return None
    return found if 1 <= beside <= _MOST_BESIDE else None


def _raised(base: Expression, n: Fraction, variable: Symbol) -> Radical | None:
    """The linear bracket of which this is a high power, or one with a letter for exponent."""
    if isinstance(base, Power) and has_letter_exponent(base, variable):
        bracket = radical_of(base.base, 1, variable)
        return bracket if bracket and bracket.power == 1 and bracket.shift.coefficient else None
    linear = as_linear(base, variable) if n >= _LEAST_ABOVE or n <= -_LEAST_BELOW else None
    if linear is None or not linear[1]:
        return None
    return Radical(under=base, index=1, slope=number(linear[0]), shift=number(linear[1]), power=1)


def _exponential(integrand: Expression, variable: Symbol) -> Radical | None:
    """The exponential of which all others are powers, where the variable stands nowhere else."""
    rates = set(_rates(integrand, variable))
    if not rates or None in rates:
        return None
    known = [rate for rate in rates if rate is not None]
    below = lcm(*(rate.denominator for rate in known))
    rate = Fraction(gcd(*(int(rate * below) for rate in known)), below)
    return Radical(
        under=Power(E, scaled(rate, variable)),
        index=1,
        slope=number(1),
        shift=number(0),
        rate=rate,
    )


def _rates(tree: Expression, variable: Symbol) -> Iterator[Fraction | None]:
    """The rates of the exponentials; None where the variable stands outside of them."""
    rate = rate_of_exponential(tree, variable)
    if rate is not None:
        yield rate
    elif tree == variable or (
        isinstance(tree, Power) and variable in tree.exponent.symbols() and as_fraction(tree.exponent) is None
    ):
        yield None
    else:
        for child in tree.children:
            yield from _rates(child, variable)
