"""The numbers of a fraction whose numbers are letters: the brackets below the line, the simple fractions, their integrals.

    x^2/(a + b x)      x^2 = 1/b^2 (a + b x)^2 - 2a/b^2 (a + b x) + a^2/b^2       one bracket: its powers
    1/(x (a + b x))    1/(a x) - b/(a (a + b x))                                  several: simple fractions

Of quadratics the square is completed: p u^2 + q. With k^2 = p/q positive, 1/(p u^2 + q) gives an inverse tangent of k u, and with
-p/q positive a logarithm (NIST DLMF 4.26.8 and 4.40 onwards, scaled); a power of it comes down by the quotient rule.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal, TypeAlias

from qbank.maths.constant_factor import in_front, number, over, split_constant, times
from qbank.maths.expression import (
    Apply,
    Constant,
    Expression,
    Quotient,
    Symbol,
    difference,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, power_tree
from qbank.maths.parametric import Letters, Parametric, TooLargeError
from qbank.maths.polynomial import divided_by
from qbank.techniques.fractions.letter_pieces import Piece, brackets_of, completed, polynomial_in, sides
from qbank.techniques.fractions.simple_fractions import Bracket, product_of, simple_fractions
from qbank.techniques.standard.standard_terms import logarithm

__all__ = ["Habit", "LetterPlan", "letter_plan"]

#: how a working is done; anything but "right" is a slip
Habit: TypeAlias = Literal[
    "right",
    "slope ignored",
    "sign of power",
    "whole part lost",
    "front ignored",
    "interchanged",
]

_Coefficients: TypeAlias = tuple[Parametric, ...]

#: more brackets, and numerators of a higher degree, are nobody's exercise
_MOST_BELOW, _MOST_ABOVE = 5, 6


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterPlan:
    """`constant * (numerator)/(brackets)`, and what it falls into.

    Attributes:
        variable: the variable.
        constant: the constant in front.
        over: the numerator, lowest first.
        over_tree: the numerator as it was written.
        under_tree: the denominator as it was written.
        brackets: its factors.
        whole: the whole part of a division; empty where the powers of one linear bracket say everything.
        rest: the numerator that is left after it.
        pieces: the simple fractions that are not 0.
        habit: how the working is done.
    """

    variable: Symbol
    constant: Factored
    over: _Coefficients
    over_tree: Expression
    under_tree: Expression
    brackets: tuple[Bracket[Parametric], ...]
    whole: _Coefficients
    rest: _Coefficients
    pieces: tuple[Piece, ...]
    habit: Habit = "right"

    @property
    def below(self) -> Expression:
        """The brackets, multiplied."""
        return product(*(bracket.tree() for bracket in self.brackets))

    def shown(self) -> Expression:
        """The whole part and the simple fractions."""
        whole = (polynomial_in(self.whole, self.variable),) if self.whole else ()
        return sum_of(*whole, *(piece.shown(self.variable) for piece in self.pieces))

    def at_sight(self) -> Iterator[Expression]:
        """The terms that need nothing more: the whole part, powers and logarithms."""
        if self.habit != "whole part lost":
            for degree, c in reversed(tuple(enumerate(self.whole, start=1))):
                if c:
                    size = times(self.constant, c.factored(), number(Fraction(1, degree)))
                    yield in_front(size, power_tree(self.variable, Fraction(degree)))
        for piece in self.pieces:
            if len(piece.bracket.factor) == 2:
                yield self._linear(piece)
            elif len(piece.top) == 2 and piece.top[1]:
                yield self._power(piece, piece.top[1] / (piece.bracket.factor[2] * 2))

    def open(self) -> dict[tuple[Bracket[Parametric], int], Parametric]:
        """The numbers over powers of quadratics that are still to be integrated."""
        found = dict[tuple[Bracket[Parametric], int], Parametric]()
        for piece in self.pieces:
            if len(piece.bracket.factor) == 3:
                _, r, p = piece.bracket.factor
                left = piece.top[0] - piece.top[1] * r / (p * 2)
                if left:
                    found[piece.bracket, piece.exponent] = left
        return found

    def _linear(self, piece: Piece) -> Expression:
        if not piece.exponent:
            return in_front(times(self.constant, piece.top[0].factored()), self.variable)
        slope = piece.bracket.factor[1]
        return self._power(piece, piece.top[0] if self.habit == "slope ignored" else piece.top[0] / slope)

    def _power(self, piece: Piece, size: Parametric) -> Expression:
        """`size L'/L^n` integrated."""
        front = times(self.constant, size.factored())
        if piece.exponent == 1:
            return in_front(front, logarithm(piece.bracket.base))
        new = 1 - piece.exponent
        body = power_tree(piece.bracket.base, Fraction(new))
        divided = new * (-1 if self.habit == "sign of power" and new < 0 else 1)
        return in_front(times(front, number(Fraction(1, divided))), body)

    def lowered(
        self, bracket: Bracket[Parametric], exponent: int, top: Parametric
    ) -> tuple[Expression, Parametric]:
        """A number over a power of a quadratic: the term outside, and the number over the power that is one lower."""
        square = completed(bracket, self.variable)
        outside = top / (square.number * (2 * (exponent - 1)))
        below = power_tree(bracket.base, Fraction(exponent - 1))
        term = in_front(times(self.constant, outside.factored()), Quotient(square.inner, below))
        return term, outside * (2 * exponent - 3)

    def inverse(self, bracket: Bracket[Parametric], top: Parametric) -> Expression:
        """A number over a quadratic: the inverse tangent or the logarithm of a quotient."""
        square = completed(bracket, self.variable)
        front = times(self.constant, top.factored())
        if self.habit != "front ignored":
            front = times(front, square.before)
        if square.is_sum:
            return in_front(front, Apply("arctan", in_front(square.root, square.inner)))
        above, below = sides(square.root)
        moving = in_front(above, square.inner)
        ratio = Quotient(sum_of(below, moving), difference(below, moving))
        return in_front(times(front, number(fraction(1, 2))), Apply("ln", Apply("abs", ratio)))

    def answer(self) -> Expression:
        """The antiderivative."""
        done = list(self.at_sight())
        left = self.open()
        while left:
            bracket, exponent = next(iter(left))
            exponent = max(n for one, n in left if one is bracket)
            top = left.pop((bracket, exponent))
            if exponent == 1:
                done.append(self.inverse(bracket, top))
                continue
            term, rest = self.lowered(bracket, exponent, top)
            done.append(term)
            key = (bracket, exponent - 1)
            total = left.get(key, rest * 0) + rest
            left.pop(key, None)
            if total:
                left[key] = total
        return sum_of(*done)

    def divisors(self) -> tuple[Expression, ...]:
        """What is divided by on the way, holds letters, and is no constant of the integrand's own denominator."""
        given = {base for base, n in self.constant.powers if n < 0}
        parts = [c for piece in self.pieces for c in piece.top]
        parts += self.whole
        slopes = [b.factor[1] for b in self.brackets if len(b.factor) == 2]
        found = [base for c in parts for base, n in c.factored().powers if n < 0]
        found += [base for c in slopes for base, n in c.factored().powers if n > 0]
        powers = [completed(one, self.variable).number for one, exponent in self.open() if exponent > 1]
        found += [base for c in powers for base, n in c.factored().powers if n > 0]
        return tuple(dict.fromkeys(base for base in found if base not in given))


# a technique and each of its slips look at one integrand in turn
@lru_cache(maxsize=64)
def letter_plan(integrand: Expression, variable: Symbol) -> LetterPlan | None:
    """The numbers of a fraction with letters for numbers, else None.

    >>> a, b, x = Symbol("a"), Symbol("b"), Symbol("x")
    >>> [piece.top[0].tree() == c for piece, c in zip(letter_plan(x / (a + b * x), x).pieces, (1 / b, -(a / b)))]
    [True, True]
    """
    try:
        plan = _plan(integrand, variable)
        if plan is not None:
            plan.answer()
    except TooLargeError:  # on the way to an answer that is nobody's exercise
        return None
    return plan


def _plan(integrand: Expression, variable: Symbol) -> LetterPlan | None:
    constant, moving = split_constant(integrand, variable)
    if not any(n < 0 for _, n in moving.powers) or any(n.denominator != 1 for _, n in moving.powers):
        return None
    taken = {node for node in moving.tree().walk() if isinstance(node, Symbol | Constant)} - {variable}
    if not taken or abs(max((n for _, n in moving.powers), key=abs)) > _MOST_ABOVE:
        return None
    letters = Letters((*sorted(taken, key=lambda one: one.name), variable))
    over_tree = product(*(power_tree(base, n) for base, n in moving.powers if n > 0))
    above = letters.polynomial(over_tree, variable)
    found = brackets_of([(base, int(-n)) for base, n in moving.powers if n < 0], letters, variable)
    if not above or found is None or len(above) > _MOST_ABOVE + 1:
        return None
    brackets, divided = found
    if sum(b.exponent * (len(b.factor) - 1) for b in brackets) > _MOST_BELOW + 1:
        return None
    whole, rest = _whole_part(above, brackets)
    return LetterPlan(
        variable=variable,
        constant=times(constant, over(divided.factored())),
        over=above,
        over_tree=over_tree,
        under_tree=product(*(power_tree(base, -n) for base, n in moving.powers if n < 0)),
        brackets=brackets,
        whole=whole,
        rest=rest,
        pieces=_pieces(rest, brackets),
    )


def _whole_part(
    above: _Coefficients, brackets: tuple[Bracket[Parametric], ...]
) -> tuple[_Coefficients, _Coefficients]:
    """What comes off by division; nothing where there is one linear bracket, of which powers say everything."""
    if len(brackets) == 1 and len(brackets[0].factor) == 2:
        return (), above
    under = product_of(tuple(b.coefficients() for b in brackets))
    return divided_by(above, under) if len(above) >= len(under) else ((), above)


def _pieces(rest: _Coefficients, brackets: tuple[Bracket[Parametric], ...]) -> tuple[Piece, ...]:
    if not rest:
        return ()
    if len(brackets) > 1:
        simple = simple_fractions(rest, brackets)
        parts = (Piece(bracket=_first(one.below), exponent=one.below.exponent, top=one.top) for one in simple)
        return tuple(part for part in parts if any(part.top))
    bracket, found = _first(brackets[0]), list[Piece]()
    left, exponent = rest, brackets[0].exponent
    while left:
        left, top = divided_by(left, bracket.factor)
        if any(top):
            found.append(Piece(bracket=bracket, exponent=exponent, top=_padded(top, bracket)))
        exponent -= 1
    return tuple(reversed(found))


def _first(bracket: Bracket[Parametric]) -> Bracket[Parametric]:
    return Bracket(factor=bracket.factor, base=bracket.base)


def _padded(top: _Coefficients, bracket: Bracket[Parametric]) -> _Coefficients:
    size = len(bracket.factor) - 1
    return (*top, *((top[0] * 0,) * (size - len(top))))
