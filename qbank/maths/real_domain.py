"""Where a tree has a real value, as far as that can be read off it: what its roots, logarithms and inverse functions ask for.

    x^2 ln x                 x is positive
    sqrt(x^2 - 4)/x          x^2 - 4 is positive
    arcsin(x/2)              1 - x^2/4 is positive
    3 arctan(x/sqrt(2))      nothing: it has a value everywhere, single points apart

An answer that asks for nothing beyond what the integrand asks for has a value wherever the integrand has one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from functools import lru_cache
from typing import TypeAlias

from qbank.maths.exponents import exponent_value
from qbank.maths.expression import (
    Apply,
    Constant,
    Decimal,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
)
from qbank.maths.functions import FUNCTIONS
from qbank.maths.polynomial import as_polynomial
from qbank.maths.positivity import surely_positive

__all__ = ["asks_no_more"]

#: the name of a partial function, "root" for one of even order, and what it is of
_Asked: TypeAlias = tuple[str, Expression]

#: functions that are smooth everywhere, or everywhere but at single points; a modulus, which is not, might make a denominator zero
#: on a whole half of the line, as in 1/(|x| - x)
_EVERYWHERE = frozenset(
    name for name, known in FUNCTIONS.items() if known.family in ("circular", "hyperbolic")
) | {"exp", "arctan", "arccot", "arsinh"}
_PLAIN = frozenset({Integer, Decimal, Symbol, Sum, Product, Negate, Quotient})

#: name -> what is positive, single points apart, where the function of u has a value
_POSITIVE: dict[str, Callable[[Expression], Expression]] = {
    **dict.fromkeys(("root", "ln"), lambda u: u),
    **dict.fromkeys(("arcsin", "arccos", "artanh"), lambda u: 1 - u**2),
    **dict.fromkeys(("arcsec", "arccosec", "arcoth"), lambda u: u**2 - 1),
}


def asks_no_more(left: Expression, right: Expression) -> bool:
    """Whether the left side surely has a value wherever the right one has, single points apart; False says nothing.

    So has its derivative: those of these functions exist where the function does, single points apart.

    >>> from qbank.maths.expression import ln
    >>> x = Symbol("x")
    >>> asks_no_more(x * ln(x) - x, ln(x)), asks_no_more(ln(x), 1 / x), asks_no_more(ln(Apply("abs", x)), 1 / x)
    (True, False, True)
    >>> asks_no_more(Apply("arcsin", x / 2), 1 / Root(4 - x**2))
    True
    """
    asked = _asked(left)
    if not asked:
        return asked is not None
    granted = _asked(right)
    if granted is None:
        return False
    missing = [one for one in asked - granted if not _has_always(*one)]
    return not missing or _polynomials(missing).issubset(_polynomials(granted) - {None})


@lru_cache(maxsize=64)
def _asked(tree: Expression) -> frozenset[_Asked] | None:
    """The partial functions in a tree; None where that is not told."""
    asked = list[_Asked]()
    nodes = [tree]
    while nodes:
        node = nodes.pop()
        match node:
            case Apply("ln", Apply("abs", argument)):
                # the logarithm of a modulus is smooth everywhere but where it is 0
                nodes.append(argument)
                continue
            case Apply() | Root() | Power():
                asked += _asked_by(node)
            case Constant("infinity"):
                return None
            case Constant():
                continue
            case _ if type(node) not in _PLAIN:
                return None
        nodes += node.children
    return frozenset(asked)


def _asked_by(node: Apply | Root | Power) -> tuple[_Asked, ...]:
    """The partial function that a node is, if it is one."""
    match node:
        case Apply(name, argument):
            return () if name in _EVERYWHERE else ((name, argument),)
        case Root(radicand, index):
            return () if index % 2 else (("root", radicand),)
        case Power(base, _) if base is E:
            return ()
        case Power(base, exponent):
            fixed = exponent_value(exponent)
            if fixed is None:
                return (("ln", base),)
            return () if fixed.denominator % 2 else (("root", base),)


def _has_always(name: str, of: Expression) -> bool:
    """Whether a partial function has a value, and is smooth, wherever what it is of has one: a root of x^2 is no more than |x|."""
    return name in ("ln", "root") and surely_positive(of)


def _polynomials(asked: Iterable[_Asked]) -> set[tuple[Symbol, tuple[Fraction, ...]] | None]:
    """The polynomials that are positive where all those have values, their last number 1 or -1; None beside them for others."""
    return {_polynomial(*one) for one in asked}


def _polynomial(name: str, of: Expression) -> tuple[Symbol, tuple[Fraction, ...]] | None:
    letters = of.symbols()
    if name not in _POSITIVE or len(letters) != 1:
        return None
    (letter,) = letters
    whole = as_polynomial(_POSITIVE[name](of), letter)
    # one that is not constant is 0 at single points only
    if whole is None or len(whole) < 2:
        return None
    size = abs(whole[-1])
    return letter, whole if size == 1 else tuple([c / size for c in whole])
