"""Does an answer hold a constant of integration? A letter counts when its value really shifts the answer.

`x^2 + C` and `ln|k x|` hold one; `x^2 + C - C` and `x^2 + 5` do not.
"""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.enclosing import Enclosure, enclose
from qbank.maths.expression import Expression, Negate, Quotient, Sum, Symbol

__all__ = ["has_constant"]

_POINTS = (Fraction(1, 3), Fraction(-1, 3), Fraction(9, 4), Fraction(-9, 4), Fraction(25, 2))
_VALUES = (Fraction(7, 5), Fraction(13, 6))


def has_constant(tree: Expression, variable: Symbol) -> bool:
    """Whether some letter other than the variable shifts the answer.

    Args:
        tree: the answer.
        variable: the variable of integration.

    >>> x, c = Symbol("x"), Symbol("C")
    >>> has_constant(x**2 + c, x), has_constant(x**2 + (c - c), x)
    (True, False)
    """
    letters = sorted(tree.symbols() - {variable}, key=lambda symbol: symbol.name)
    if not letters:
        return False
    if isinstance(tree, Sum) and _is_plain_constant(tree.terms[-1]):
        letter = tree.terms[-1].symbols()
        if not any(letter & term.symbols() for term in tree.terms[:-1]):
            return True
    compared = False
    for point in _POINTS:
        one, other = (_at(tree, variable, point, letters, value) for value in _VALUES)
        if one is not None and other is not None:
            if one.upper < other.lower or other.upper < one.lower:
                return True
            compared = True
    # without a point to compare at, a letter that is there is taken for the constant
    return not compared


def _is_plain_constant(term: Expression) -> bool:
    """Whether a term is `C`, `-C` or `C/2`."""
    if isinstance(term, Negate):
        term = term.operand
    if isinstance(term, Quotient) and not term.denominator.symbols():
        term = term.numerator
    return isinstance(term, Symbol)


def _at(
    tree: Expression, variable: Symbol, point: Fraction, letters: list[Symbol], value: Fraction
) -> Enclosure | None:
    values = {letter: value + place for place, letter in enumerate(letters)}
    return enclose(tree, at={**values, variable: point})
