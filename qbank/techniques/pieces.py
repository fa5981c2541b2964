"""Pieces of a line that can be left blank, so that one number or one function alone fills the gap.

A line is linear in what stands in such a gap, or the gap is the exponent of a function: so if one filling makes the line
right and another makes it wrong, the first is the only one.

    4/5 u^5            gap u^5, 4/5 gap, 4/5 u^gap
    int 2x f(x) dx     int gap f(x) dx, int gap dx

A minus sign that opens a line belongs to the number behind it, since a sign that is shown is half the answer. A number or
a function that is shown beside the gap, or in the line before, is no gap: it would be copied.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import (
    Differential,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Product,
    Sum,
    as_fraction,
    product,
    rational,
)
from qbank.maths.notation.gapped import GAP

__all__ = ["Piece", "PieceKind", "numbers_in", "pieces_of"]

PieceKind: TypeAlias = Literal["number", "expression"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece of a statement, and the statement without it.

    Attributes:
        kind: what fills the gap.
        statement: with the letter of a gap in the place of the piece.
        value: what stands there.
        raised: whether it is an exponent.
        integrated: whether it stands below a sign of integration.
    """

    kind: PieceKind
    statement: Statement
    value: Expression
    raised: bool = False
    integrated: bool = False


def pieces_of(statement: Statement) -> Iterator[Piece]:
    """The pieces of an expression, or of the right side of an equation.

    Args:
        statement: a line of a working; of one that has a gap already, the gap is the one piece of interest.

    >>> from qbank.maths.expression import Symbol
    >>> from qbank.maths.notation import plain
    >>> u = Symbol("u")
    >>> [(plain(one.statement), plain(one.value)) for one in pieces_of(rational(4, 5) * u**5)]
    [('gap u^5', '4/5'), ('4/5 u^gap', '5'), ('4/5 gap', 'u^5'), ('gap', '4/5 u^5')]
    """
    if isinstance(statement, Equation):
        yield from _Places(lambda tree: Equation(statement.left, tree)).of(statement.right)
    else:
        yield from _Places(lambda tree: tree).of(statement)


@dataclass(frozen=True, slots=True)
class _Places:
    """Where a part stands: how the whole is made from it, and what is known of the way there."""

    whole: Callable[[Expression], Statement]
    integrated: bool = False
    #: whether everything on the way that is not integrated is a number
    plain: bool = True
    opening: bool = True

    def of(self, tree: Expression) -> Iterator[Piece]:
        match tree:
            case Negate(operand) if self.opening:
                yield from self._signed(operand)
            case Negate(operand):
                yield from self._below(Negate).of(operand)
                return
            case _ if tree == GAP or as_fraction(tree) is not None:
                yield self._piece("number", GAP, tree)
            case Sum(terms):
                for at, term in enumerate(terms):
                    yield from self._below(
                        lambda part, at=at: Sum((*terms[:at], part, *terms[at + 1 :])), opening=at == 0
                    ).of(term)
            case Product(factors):
                yield from self._factors(factors)
            case Integral(integrand, variable, None, None):
                inside = self._below(lambda part: Integral(part, variable), opening=False)
                yield from _Places(inside.whole, integrated=True, plain=self.plain, opening=False).of(
                    integrand
                )
            case Power(base, exponent) if _is_raised(exponent) and base.symbols() and self.plain:
                yield self._piece("number", Power(base, GAP), exponent, raised=True)
            case _:
                pass
        if self.plain and _is_function(tree):
            yield self._piece("expression", GAP, tree)

    def _signed(self, operand: Expression) -> Iterator[Piece]:
        """What stands behind a minus sign that opens the line: a number with the sign, all else without."""
        first, rest = (
            (operand.factors[0], operand.factors[1:]) if isinstance(operand, Product) else (operand, ())
        )
        number = as_fraction(first)
        if number is not None:
            yield self._piece("number", product(GAP, *rest), rational(-number))
        for one in self._below(Negate, opening=False).of(operand):
            if number is None or one.value != first:
                yield one

    def _factors(self, factors: tuple[Expression, ...]) -> Iterator[Piece]:
        for at, factor in enumerate(factors):
            others = (*factors[:at], *factors[at + 1 :])
            numbers = all(as_fraction(one) is not None for one in others)
            yield from self._below(
                lambda part, at=at: Product((*factors[:at], part, *factors[at + 1 :])),
                opening=self.opening and at == 0,
                plain=numbers or self.integrated,
            ).of(factor)
        *before, last = factors
        first, *behind = factors
        if isinstance(last, Differential) and _is_function(product(*before)):
            yield self._piece("expression", Product((GAP, last)), product(*before))
        elif (
            self.plain
            and len(behind) > 1
            and as_fraction(first) is not None
            and _is_function(product(*behind))
        ):
            yield self._piece("expression", Product((first, GAP)), product(*behind))

    def _below(
        self, part: Callable[..., Expression], *, opening: bool | None = None, plain: bool = True
    ) -> _Places:
        return _Places(
            lambda tree: self.whole(part(tree)),
            integrated=self.integrated,
            plain=self.plain and plain,
            opening=self.opening if opening is None else opening,
        )

    def _piece(self, kind: PieceKind, gap: Expression, value: Expression, *, raised: bool = False) -> Piece:
        return Piece(
            kind=kind, statement=self.whole(gap), value=value, raised=raised, integrated=self.integrated
        )


def _is_function(tree: Expression) -> bool:
    """Whether a part is a function of a single letter, with nothing left to be integrated in it."""
    unfinished = tree.holds(Integral, Differential)
    return not unfinished and len(tree.symbols()) == 1


def _is_raised(exponent: Expression) -> bool:
    return exponent == GAP or (isinstance(exponent, Integer) and exponent.value > 1)


def numbers_in(tree: Expression, *, raised: bool) -> Iterator[Expression]:
    """The numbers that are written in a part: as exponents, or everywhere else."""
    if as_fraction(tree) is not None:
        if not raised:
            yield tree
        return
    if isinstance(tree, Power):
        yield from numbers_in(tree.base, raised=raised)
        if raised:
            yield tree.exponent
        return
    for part in tree.children:
        yield from numbers_in(part, raised=raised)
