"""What a function, and its derivative, is a product of powers of, as far as that is told without differentiating.

Atoms are the variable, sines, cosines, exponentials and logarithms, written as in the form for comparing:

    function           atoms               of the derivative
    x^3                x: 3                x: 2
    tan(x^2)           sin: 1, cos: -1     cos: -2, x: 1
    e^(2x) + 1         (a sum: none)       e^x: 2
    sqrt(x^2 + 1)      (a root of a sum)   x: 1, and something else
"""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Negate,
    Number,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
)
from qbank.maths.factors import Factored
from qbank.maths.tidying import split_coefficient
from qbank.techniques.standard.standard_functions import FUNCTION_POWERS

__all__ = ["Atoms", "atoms_of", "atoms_of_derivative", "atoms_of_product"]

#: the exponents of sine and cosine in a function -> those in its derivative
_SLOPES = {
    (1, 0): (0, 1),
    (0, 1): (1, 0),
    (1, -1): (0, -2),
    (-1, 1): (-2, 0),
    (0, -1): (1, -2),
    (-1, 0): (-2, 1),
}
_PAIRS = {"circular": ("sin", "cos"), "hyperbolic": ("sinh", "cosh")}
#: functions that stand for themselves in the form for comparing
_PLAIN = frozenset(("sin", "cos", "sinh", "cosh", "ln"))
#: the derivative of each is the derivative of its argument times what is no product of atoms
_INVERSE = frozenset(("arcsin", "arccos", "arctan", "arccot", "arsinh", "arcosh", "artanh", "arcoth"))


class Atoms:
    """Powers of atoms, each with its exponent.

    Args:
        variable: the variable.

    Attributes:
        powers: the exponents, in order of appearance.
        complete: whether there is nothing else that depends on the variable.
    """

    def __init__(self, variable: Symbol) -> None:
        self.powers: dict[Expression, Number] = {}
        self.complete = True
        self._variable = variable

    def add(self, tree: Expression, exponent: Number) -> None:
        """Multiply by a power of a tree whose sums are in order; only a whole power is taken apart."""
        if self._variable not in tree.symbols():
            return
        whole = exponent.denominator == 1
        match tree:
            case Symbol():
                self._count(tree, exponent)
            case Apply(name, argument) if whole and name in FUNCTION_POWERS:
                kind, sine, cosine = FUNCTION_POWERS[name]
                self._pair(kind, argument, sine * exponent, cosine * exponent)
            case Apply(name, _) if name in _PLAIN:
                self._count(tree, exponent)
            case Power(base, inner) if self._variable in inner.symbols():
                # e^(e^x + x) may be a product of exponentials
                if self._variable in base.symbols() or (base == E and isinstance(inner, Sum)):
                    self.complete = False
                else:
                    rate, body = split_coefficient(inner)
                    self._count(Power(base, body), _plain(rate) * exponent)
            case Power(base, inner) if whole and (n := as_fraction(inner)) is not None:
                self.add(base, _plain(n) * exponent)
            case Root(radicand, index) if whole:
                self.add(radicand, fraction(exponent.numerator, index))
            case Negate(operand) if whole:
                self.add(operand, exponent)
            case Product(factors) if whole:
                for factor in factors:
                    self.add(factor, exponent)
            case Quotient(numerator, denominator) if whole:
                self.add(numerator, exponent)
                self.add(denominator, -exponent)
            case _:
                self.complete = False

    def add_slope(self, name: str, argument: Expression) -> None:
        """Multiply by the derivative of a circular or hyperbolic function at its argument."""
        kind, sine, cosine = FUNCTION_POWERS[name]
        self._pair(kind, argument, *_SLOPES[sine, cosine])

    def _pair(self, kind: str, argument: Expression, sine: Number, cosine: Number) -> None:
        for name, n in zip(_PAIRS[kind], (sine, cosine), strict=True):
            if n:
                self._count(Apply(name, argument), n)

    def _count(self, atom: Expression, exponent: Number) -> None:
        self.powers[atom] = self.powers.get(atom, 0) + exponent


def _plain(number: Fraction) -> Number:
    """A whole number as such: reckoning with it takes less time."""
    return number.numerator if number.denominator == 1 else number


def atoms_of(tree: Expression, variable: Symbol) -> Atoms:
    """The atoms of a tree whose sums are in order.

    >>> from qbank.maths.expression import sin
    >>> x = Symbol("x")
    >>> atoms_of(x**2 * sin(x), x).powers == {x: 2, sin(x): 1}
    True
    """
    found = Atoms(variable)
    found.add(tree, 1)
    return found


def atoms_of_product(whole: Factored, variable: Symbol) -> Atoms:
    """The atoms of a product in the form for comparing."""
    found = Atoms(variable)
    for base, exponent in whole.powers:
        found.add(base, _plain(exponent))
    return found


def atoms_of_derivative(tree: Expression, variable: Symbol) -> Atoms | None:
    """The atoms of the derivative; None where it is a sum, or not told.

    >>> from qbank.maths.expression import sin
    >>> x = Symbol("x")
    >>> atoms_of_derivative(sin(x**2), x).powers == {Apply("cos", x**2): 1, x: 1}
    True
    """
    found = Atoms(variable)
    return found if _differentiate(tree, found, variable) else None


def _differentiate(tree: Expression, into: Atoms, variable: Symbol) -> bool:
    """Multiply by the atoms of the derivative of a tree; whether they are told."""
    moving = [part for part in tree.children if variable in part.symbols()]
    if len(moving) != 1:
        return tree == variable
    (inner,) = moving
    match tree:
        case Apply(name, argument) if name in FUNCTION_POWERS:
            into.add_slope(name, argument)
        case Apply("ln", argument):
            inner = (
                argument.argument if isinstance(argument, Apply) and argument.function == "abs" else argument
            )
            into.add(inner, -1)
        case Apply(name, _):
            if name not in _INVERSE:
                return False
            into.complete = False
        case Power(base, exponent):
            n = as_fraction(exponent)
            into.add(*((tree, 1) if n is None else (base, _plain(n - 1))))
        case Root(radicand, index):
            into.add(radicand, fraction(1 - index, index))
        case Quotient(_, denominator) if inner is denominator:
            into.add(denominator, -2)
        case _:
            pass
    return _differentiate(inner, into, variable)
