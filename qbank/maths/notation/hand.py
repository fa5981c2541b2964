"""A teacher's hand: how an expression tree is laid out on the page.

The rules, in short: a power goes on the name of a circular or hyperbolic function (`sin^2 x`); a simple argument
has no brackets (`sin 3x`); a function is bracketed where the next factor could be taken for a part of its argument
(`(sin x) y`); products have no sign except where numbers would run together; nothing is reordered. A nested sum or
product keeps its bracket, since the tree says that one was written.
"""

from __future__ import annotations

from functools import lru_cache, singledispatch

from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import (
    Apply,
    Constant,
    Decimal,
    Differential,
    Evaluated,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
)
from qbank.maths.functions import FUNCTIONS
from qbank.maths.notation.layout import (
    Bars,
    Digits,
    Equals,
    Fraction,
    IntegralOf,
    Layout,
    Letter,
    LittleD,
    Named,
    NamedConstant,
    Radical,
    Raised,
    Round,
    Square,
    Terms,
)
from qbank.maths.notation.names import function_name, split_symbol
from qbank.maths.notation.products import join

__all__ = ["lay_out"]


# an item writes each formula in several targets and places
@lru_cache(maxsize=256)
def lay_out(tree: Statement, conventions: Conventions = DEFAULT) -> Layout:
    """The layout of an expression or equation.

    Args:
        tree: what to show.
        conventions: the school's habits of writing.

    >>> from qbank.maths.expression import Symbol, sin
    >>> lay_out(sin(Symbol("x")) ** 2).power
    Digits(text='2')
    """
    if isinstance(tree, Equation):
        return Equals(_lay(tree.left, conventions), _lay(tree.right, conventions))
    return _lay(tree, conventions)


@singledispatch
def _lay(tree: Expression, conventions: Conventions) -> Layout:  # noqa: ARG001 - the signature of its registered parts
    raise TypeError(f"no layout for {type(tree).__name__}")


@_lay.register
def _integer(tree: Integer, _conventions: Conventions) -> Layout:
    return Digits(str(tree.value))


@_lay.register
def _decimal(tree: Decimal, conventions: Conventions) -> Layout:
    return Digits(tree.text.replace(".", conventions.decimal))


@_lay.register
def _symbol(tree: Symbol, _conventions: Conventions) -> Letter:
    return Letter(tree.name, *split_symbol(tree.name))


@_lay.register
def _constant(tree: Constant, _conventions: Conventions) -> Layout:
    return NamedConstant(tree.name)


@_lay.register
def _sum(tree: Sum, conventions: Conventions) -> Layout:
    signs = tuple(isinstance(term, Negate) for term in tree.terms)
    bodies = tuple(
        _term(term.operand if isinstance(term, Negate) else term, conventions) for term in tree.terms
    )
    return Terms(bodies, signs)


@_lay.register
def _negate(tree: Negate, conventions: Conventions) -> Layout:
    return Terms((_term(tree.operand, conventions),), (True,))


def _term(tree: Expression, conventions: Conventions) -> Layout:
    """What follows a plus or minus sign: a sum or a further sign there needs brackets."""
    body = _lay(tree, conventions)
    return Round(body) if isinstance(tree, Sum | Negate) else body


@_lay.register
def _product(tree: Product, conventions: Conventions) -> Layout:
    return join([_factor(factor, conventions) for factor in tree.factors])


def _factor(tree: Expression, conventions: Conventions) -> Layout:
    body = _lay(tree, conventions)
    return Round(body) if isinstance(tree, Sum | Negate | Product) else body


@_lay.register
def _quotient(tree: Quotient, conventions: Conventions) -> Layout:
    return Fraction(_small(tree.numerator, conventions), _small(tree.denominator, conventions))


@_lay.register
def _power(tree: Power, conventions: Conventions) -> Layout:
    base = _lay(tree.base, conventions)
    if isinstance(base, Named) and isinstance(tree.exponent, Integer):
        family = FUNCTIONS[base.function].family
        if base.power is None and family in ("circular", "hyperbolic"):
            return Named(base.function, base.name, Digits(str(tree.exponent.value)), base.argument)
    bare = isinstance(base, Digits | Letter | NamedConstant | Bars)
    return Raised(base if bare else Round(base), _small(tree.exponent, conventions))


def _small(tree: Expression, conventions: Conventions) -> Layout:
    """What is set small, or above or below a bar: a simple fraction has a slash there, which stays readable."""
    body = _lay(tree, conventions)
    match tree:
        case Quotient(top, bottom) if _is_simple(top) and _is_atom(bottom):
            return Fraction(_lay(top, conventions), _lay(bottom, conventions), slashed=True)
        case Negate(Quotient() as quotient):
            return Terms((_small(quotient, conventions),), (True,))
        case _:
            return body


@_lay.register
def _root(tree: Root, conventions: Conventions) -> Layout:
    return Radical(_lay(tree.radicand, conventions), tree.index)


@_lay.register
def _apply(tree: Apply, conventions: Conventions) -> Layout:
    body = _lay(tree.argument, conventions)
    if tree.function == "abs":
        return Bars(body)
    name = function_name(tree.function, conventions)
    bare = tree.function != "exp" and _goes_bare(tree.argument)
    return Named(tree.function, name, None, body if bare else Round(body))


def _goes_bare(argument: Expression) -> bool:
    """Whether an argument stands after the function's name without brackets: what draws its own borders, too."""
    match argument:
        case Root(_, 2) | Apply("abs", _):
            return True
        case Quotient(top, bottom):
            return _is_simple(top) and _is_simple(bottom)
        case _:
            return _is_simple(argument)


def _is_atom(tree: Expression) -> bool:
    return isinstance(tree, Integer | Decimal | Symbol | Constant)


def _is_simple(tree: Expression) -> bool:
    """A letter, a number, or a product of letters with at most one number in front: `3x`, `2 pi x`."""
    if not isinstance(tree, Product):
        return _is_atom(tree)
    first, *others = tree.factors
    return _is_atom(first) and all(isinstance(factor, Symbol | Constant) for factor in others)


@_lay.register
def _integral(tree: Integral, conventions: Conventions) -> Layout:
    body = _lay(tree.integrand, conventions)
    return IntegralOf(
        Round(body) if isinstance(tree.integrand, Sum) else body,
        LittleD(_symbol(tree.variable, conventions)),
        None if tree.lower is None else _small(tree.lower, conventions),
        None if tree.upper is None else _small(tree.upper, conventions),
    )


@_lay.register
def _evaluated(tree: Evaluated, conventions: Conventions) -> Layout:
    return Square(
        _lay(tree.antiderivative, conventions),
        _small(tree.lower, conventions),
        _small(tree.upper, conventions),
    )


@_lay.register
def _differential(tree: Differential, conventions: Conventions) -> Layout:
    return LittleD(_symbol(tree.variable, conventions))
