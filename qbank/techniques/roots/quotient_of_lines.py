"""Powers of two linear expressions, written with a letter for their quotient.

sqrt(1 + x)/(1 - x)^(5/2)      u = (1 + x)/(1 - x), 1 - x = 2/(u + 1), du = 2/(1 - x)^2 dx:    1/2 sqrt(u)
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import comb

from qbank.maths.constant_factor import number, over, split_constant, times
from qbank.maths.expression import Expression, Quotient, Symbol, fraction, rational, sum_of
from qbank.maths.factors import Factored, power_tree
from qbank.maths.polynomial import as_linear, polynomial_tree
from qbank.maths.tidying import scaled
from qbank.techniques.circular.circular_powers import spare_letter

__all__ = ["QuotientOfLines", "quotient_of_lines"]

#: what is left of B may be multiplied out to this power
_POWER_LIMIT = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotientOfLines:
    """`constant * A^p B^q`.

    Attributes:
        variable: the variable.
        constant: in front.
        letter: u.
        quotient: A/B.
        below: B.
        size: the number over B^2 that the derivative of u is.
        solved: B in u.
        front: all that stands in front of the integral in u.
        outer: what is integrated there.
        expanded: the same multiplied out.
    """

    variable: Symbol
    constant: Factored
    letter: Symbol
    quotient: Expression
    below: Expression
    size: Fraction
    solved: Expression
    front: Factored
    outer: Expression
    expanded: Expression


@lru_cache(maxsize=64)
def quotient_of_lines(integrand: Expression, variable: Symbol) -> QuotientOfLines | None:
    """See an integrand as such powers of two linear expressions; None for anything else.

    >>> x = Symbol("x")
    >>> quotient_of_lines((1 + x) ** Fraction(1, 2) / (1 - x) ** Fraction(5, 2), x).size
    Fraction(2, 1)
    """
    constant, moving = split_constant(integrand, variable)
    if len(moving.powers) != 2 or not constant.coefficient:
        return None
    (above, p), (below, q) = moving.powers
    first, second = as_linear(above, variable), as_linear(below, variable)
    if first is None or second is None or p.denominator == 1 or (p + q).denominator != 1:
        return None
    left = -(p + q) - 2
    (a, b), (c, d) = first, second
    size = a * d - b * c
    if not 0 <= left <= _POWER_LIMIT or not size or not a or not c:
        return None
    letter = spare_letter(integrand)
    sign, n = (1 if size > 0 else -1), int(left)
    line = (sign * a, -sign * c)
    factors = ((letter, p), (polynomial_tree(line, letter), left)) if left else ((letter, p),)
    terms = (
        scaled(comb(n, k) * line[0] ** (n - k) * line[1] ** k, power_tree(letter, p + k))
        for k in range(n, -1, -1)
    )
    return QuotientOfLines(
        variable=variable,
        constant=constant,
        letter=letter,
        quotient=Quotient(above, below),
        below=below,
        size=size,
        solved=Quotient(rational(abs(size)), polynomial_tree(line, letter)),
        front=times(constant, over(number(size)), number((1 / abs(size)) ** n)),
        outer=Factored(coefficient=fraction(1, 1), powers=factors).tree(),
        expanded=sum_of(*terms),
    )
