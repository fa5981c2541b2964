"""A teacher's hand: how an expression tree is laid out on the page.

The rules, in short: a whole power, or a letter for one, goes on the name of a circular or hyperbolic function
(`sin^2 x`, `sin^(n - 1) x`); a simple argument has no brackets (`sin 3x`); a function is bracketed where the next
factor could be taken for a part of its argument (`(sin x) y`); products have no sign except where numbers would run together; nothing is reordered. A nested sum or
product keeps its bracket, since the tree says that one was written.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache, partial
from typing import Any

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
    Limit,
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
    LimitOf,
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

__all__ = ["Hand", "hand_of", "lay_out"]


def lay_out(tree: Statement | Layout, conventions: Conventions = DEFAULT) -> Layout:
    """The layout of an expression or equation.

    Args:
        tree: what to show; what is laid out already stays as it is.
        conventions: the school's habits of writing.

    >>> from qbank.maths.expression import Symbol, sin
    >>> lay_out(sin(Symbol("x")) ** 2).power
    Digits(text='2')
    """
    return tree if isinstance(tree, Layout) else hand_of(conventions)[tree]


class Hand(dict[Statement, Layout]):
    """The hand of one school, which knows again what it has laid out.

    Lines of a solution, and the clones of a template, have most parts in common; equal parts share one box.
    """

    __slots__ = ("_differentials", "conventions", "name_of")

    def __init__(self, conventions: Conventions) -> None:
        super().__init__()
        self.conventions = conventions
        self._differentials: dict[Symbol, LittleD] = {}
        #: how the name of a function is written
        self.name_of = cache(partial(function_name, conventions=conventions))

    def __missing__(self, tree: Statement) -> Layout:
        """The layout of a part that it has not met before."""
        try:
            write = _LAYS[type(tree)]
        except KeyError:
            raise TypeError(f"no layout for {type(tree).__name__}") from None
        # bounded, and simpler than throwing away the oldest alone
        if len(self) >= _MOST_KNOWN:
            self.clear()
            self._differentials.clear()
        box = self[tree] = write(tree, self)
        return box

    def letter(self, symbol: Symbol) -> Letter:
        """The layout of a symbol."""
        box = self[symbol]
        assert isinstance(box, Letter), "a symbol is laid out so"
        return box

    def differential(self, variable: Symbol) -> LittleD:
        """The `dx` of a letter."""
        box = self._differentials.get(variable)
        if box is None:
            box = self._differentials[variable] = LittleD(self.letter(variable))
        return box


# Kinds of node and box that a hand asks for at every step. None has kinds of its own, so that the type tells all; to ask for an
# instance takes twice as long where the answer is no, which it mostly is.
_ATOMS: frozenset[type] = frozenset({Integer, Decimal, Symbol, Constant})
_LETTERS: frozenset[type] = frozenset({Symbol, Constant})
_SIGNED: frozenset[type] = frozenset({Sum, Negate})
_ROWS: frozenset[type] = frozenset({Sum, Negate, Product})
_BARE: frozenset[type] = frozenset({Digits, Letter, NamedConstant, Bars})

#: how many boxes a hand knows at most
_MOST_KNOWN = 4096

#: the hand of a school
hand_of = lru_cache(maxsize=8)(Hand)


def _equation(tree: Equation, hand: Hand) -> Layout:
    return Equals(hand[tree.left], hand[tree.right])


def _integer(tree: Integer, _hand: Hand) -> Layout:
    return Digits(str(tree.value))


def _decimal(tree: Decimal, hand: Hand) -> Layout:
    return Digits(tree.text.replace(".", hand.conventions.decimal))


def _symbol(tree: Symbol, _hand: Hand) -> Letter:
    return Letter(tree.name, *split_symbol(tree.name))


def _constant(tree: Constant, _hand: Hand) -> Layout:
    return NamedConstant(tree.name)


def _sum(tree: Sum, hand: Hand) -> Layout:
    bodies, signs = [], []
    for term in tree.terms:
        minus = type(term) is Negate
        body = term.operand if type(term) is Negate else term
        bodies.append(Round(hand[body]) if type(body) in _SIGNED else hand[body])
        signs.append(minus)
    return Terms(tuple(bodies), tuple(signs))


def _negate(tree: Negate, hand: Hand) -> Layout:
    return Terms((_term(tree.operand, hand),), (True,))


def _term(tree: Expression, hand: Hand) -> Layout:
    """What follows a plus or minus sign: a sum or a further sign there needs brackets."""
    return Round(hand[tree]) if type(tree) in _SIGNED else hand[tree]


def _product(tree: Product, hand: Hand) -> Layout:
    # a row inside a row needs brackets
    return join([Round(hand[one]) if type(one) in _ROWS else hand[one] for one in tree.factors])


def _quotient(tree: Quotient, hand: Hand) -> Layout:
    return Fraction(_small(tree.numerator, hand), _small(tree.denominator, hand))


def _power(tree: Power, hand: Hand) -> Layout:
    base = hand[tree.base]
    if type(base) is Named and (type(tree.exponent) is Integer or _is_index(tree)):
        family = FUNCTIONS[base.function].family
        if base.power is None and family in ("circular", "hyperbolic"):
            return Named(base.function, base.name, hand[tree.exponent], base.argument)
    bare = type(base) in _BARE
    return Raised(base if bare else Round(base), _small(tree.exponent, hand))


def _is_index(tree: Power) -> bool:
    """Whether what is raised is a letter, perhaps with a number, that stands for a whole number: `n`, `n - 2`."""
    match tree.exponent:
        case (Symbol() as n) | Sum((Symbol() as n, Integer() | Negate(Integer()))):
            return n not in tree.base.symbols()
        case _:
            return False


def _small(tree: Expression, hand: Hand) -> Layout:
    """What is set small, or above or below a bar: a simple fraction has a slash there, which stays readable."""
    if type(tree) is Quotient and _is_simple(tree.numerator) and _is_atom(tree.denominator):
        return Fraction(hand[tree.numerator], hand[tree.denominator], slashed=True)
    if type(tree) is Negate and type(tree.operand) is Quotient:
        return Terms((_small(tree.operand, hand),), (True,))
    return hand[tree]


def _root(tree: Root, hand: Hand) -> Layout:
    return Radical(hand[tree.radicand], tree.index)


def _apply(tree: Apply, hand: Hand) -> Layout:
    body = hand[tree.argument]
    if tree.function == "abs":
        return Bars(body)
    bare = tree.function != "exp" and _goes_bare(tree.argument)
    return Named(tree.function, hand.name_of(tree.function), None, body if bare else Round(body))


def _goes_bare(argument: Expression) -> bool:
    """Whether an argument stands after the function's name without brackets: what draws its own borders, too."""
    if type(argument) is Quotient:
        return _is_simple(argument.numerator) and _is_simple(argument.denominator)
    if type(argument) is Root:
        return argument.index == 2
    return argument.function == "abs" if type(argument) is Apply else _is_simple(argument)


def _is_atom(tree: Expression) -> bool:
    return type(tree) in _ATOMS


def _is_simple(tree: Expression) -> bool:
    """A letter, a number, or a product of letters with at most one number in front: `3x`, `2 pi x`."""
    if type(tree) is not Product:
        return _is_atom(tree)
    first, *others = tree.factors
    return _is_atom(first) and all(type(factor) in _LETTERS for factor in others)


def _integral(tree: Integral, hand: Hand) -> Layout:
    body = hand[tree.integrand]
    return IntegralOf(
        Round(body) if type(tree.integrand) is Sum else body,
        hand.differential(tree.variable),
        None if tree.lower is None else _small(tree.lower, hand),
        None if tree.upper is None else _small(tree.upper, hand),
    )


def _evaluated(tree: Evaluated, hand: Hand) -> Layout:
    return Square(
        hand[tree.antiderivative],
        _small(tree.lower, hand),
        _small(tree.upper, hand),
    )


def _limit(tree: Limit, hand: Hand) -> Layout:
    body = hand[tree.body]
    return LimitOf(
        Round(body) if isinstance(tree.body, Sum) else body,
        hand.letter(tree.variable),
        _small(tree.to, hand),
        "+" if tree.side > 0 else "-" if tree.side < 0 else "",
    )


def _differential(tree: Differential, hand: Hand) -> Layout:
    return hand.differential(tree.variable)


#: kind of node -> how it is laid out
_LAYS: dict[type[Statement], Callable[[Any, Hand], Layout]] = {
    Equation: _equation,
    Integer: _integer,
    Decimal: _decimal,
    Symbol: _symbol,
    Constant: _constant,
    Sum: _sum,
    Negate: _negate,
    Product: _product,
    Quotient: _quotient,
    Power: _power,
    Root: _root,
    Apply: _apply,
    Integral: _integral,
    Evaluated: _evaluated,
    Limit: _limit,
    Differential: _differential,
}
