"""A quadratic with letters under a root, its square completed.

2a x - x^2       a^2 - (x - a)^2
x^2 + b x + c    (x + b/2)^2 - (b^2 - 4c)/4
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import split_constant, times
from qbank.maths.expression import (
    Constant,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Sum,
    Symbol,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.parametric import Letters, Parametric
from qbank.maths.tidying import scaled
from qbank.techniques.circular.circular_powers import spare_letter

__all__ = ["SquareWithLetters", "square_with_letters"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SquareWithLetters:
    """`constant * rest * under^n`.

    Attributes:
        variable: the variable.
        constant: in front.
        under: the quadratic as it was written.
        moved: the variable and what is added to it in the square.
        square: the quadratic with its square completed, in the variable.
        letter: a new letter for the bracket.
        core: the integrand in the letter, without the constant.
        rises: whether the number before the square is positive.
    """

    variable: Symbol
    constant: Factored
    under: Expression
    moved: Expression
    square: Expression
    letter: Symbol
    core: Expression
    rises: bool


@lru_cache(maxsize=64)
def square_with_letters(integrand: Expression, variable: Symbol) -> SquareWithLetters | None:
    """See an integrand as one with a single root of such a quadratic; None for anything else.

    >>> from qbank.maths.expression import Root
    >>> x, a = Symbol("x"), Symbol("a")
    >>> square_with_letters(1 / Root(x**2 + 2 * a * x), x).square == (x + a) ** 2 - a**2
    True
    """
    constant, moving = split_constant(integrand, variable)
    roots = [pair for pair in moving.powers if pair[1].denominator == 2]
    if len(roots) != 1 or not constant.coefficient or not isinstance(roots[0][0], Sum | Product):
        return None
    under, n = roots[0]
    letters = sorted(under.symbols() - {variable}, key=lambda one: one.name)
    atoms = (*letters, *dict.fromkeys(node for node in under.walk() if isinstance(node, Constant)), variable)
    known = Letters(atoms)
    coefficients = known.polynomial(under, variable) if letters else None
    if coefficients is None or len(coefficients) != 3 or not coefficients[1]:
        return None
    c, b, a = coefficients
    size = a.as_fraction()
    if size is None or not size:
        return None
    shift, rest = b / (size * 2), c - b * b / (size * 4)
    if not rest:
        return None
    letter = spare_letter(integrand)
    moved = sum_of(variable, shift.tree())
    square = _square(size, moved, rest)
    others = moving.without(under).tree().substitute({variable: _less(letter, shift)})
    root = Factored(coefficient=fraction(1, 1), powers=((_square(size, letter, rest), n),))
    return SquareWithLetters(
        variable=variable,
        constant=constant,
        under=under,
        moved=moved,
        square=square,
        letter=letter,
        core=times(factored(others), root).tree(),
        rises=size > 0,
    )


def _less(letter: Symbol, shift: Parametric) -> Expression:
    return sum_of(letter, (-shift).tree())


def _square(size: Fraction, bracket: Expression, rest: Parametric) -> Expression:
    """`size * bracket^2 + rest`, what is positive first where that can be told."""
    square = scaled(size, Power(bracket, Integer(2)))
    other = rest.tree()
    return sum_of(other, square) if isinstance(square, Negate) else sum_of(square, other)
