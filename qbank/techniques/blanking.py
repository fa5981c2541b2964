"""Leaving a piece of a line blank: only where what is shown determines it, so that a single filling is right.

The line with its piece is proved, with another one refuted; by the form of the line (see `pieces`) every other filling is
then wrong too. An expression is right in every equivalent form, written in the one letter that stands there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from qbank.maths.deciding import decide_equal
from qbank.maths.equation import Equation, Statement, sides
from qbank.maths.expression import (
    Differential,
    Expression,
    Integer,
    Integral,
    Negate,
    Product,
    Sum,
    Symbol,
    as_fraction,
    product,
    sum_of,
)
from qbank.maths.notation.gapped import GAP
from qbank.maths.verdict import Proof, Proved, Refuted, Witness
from qbank.techniques.following import Written, follows, meanings
from qbank.techniques.indexed_integral import defined_by
from qbank.techniques.pieces import Piece, numbers_in
from qbank.techniques.presenting import Row

__all__ = ["Blank", "blank", "filled", "is_given_away"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A piece that may be left blank.

    Attributes:
        place: which statement of the line it stands in, counted from 0.
        piece: the piece.
        proof: that the line with it holds.
        witness: where the line with another filling does not.
        letter: in which an expression is written; None for a number.
        meaning: what that letter stands for; None for the variable itself, and for a number.
        up_to_constant: whether a constant may be added.
    """

    place: int
    piece: Piece
    proof: Proof
    witness: Witness
    letter: Symbol | None
    meaning: Expression | None
    up_to_constant: bool

    @property
    def value(self) -> Expression:
        """What stands in the line."""
        return self.piece.value


def filled(statement: Statement, value: Expression) -> Statement:
    """A statement with its gap filled.

    >>> from qbank.maths.expression import Symbol
    >>> filled(GAP * Symbol("x"), Integer(2)) == 2 * Symbol("x")
    True
    """
    if isinstance(statement, Equation):
        return Equation(_put(statement.left, value), _put(statement.right, value))
    return _put(statement, value)


def _put(tree: Expression, value: Expression) -> Expression:
    """A part with the gap filled as it is written: factors go among factors, terms among terms, a minus sign in front."""
    match tree:
        case Symbol():
            return value if tree == GAP else tree
        case Product((first, *others)) if first == GAP and isinstance(value, Negate):
            return Negate(product(value.operand, *others))
        case Product(factors) if GAP in factors and isinstance(value, Product):
            return product(*(part for one in factors for part in (value.factors if one == GAP else (one,))))
        case Sum(terms) if GAP in terms and isinstance(value, Sum):
            return sum_of(*(part for one in terms for part in (value.terms if one == GAP else (one,))))
        case _:
            return tree.rebuild(lambda part: _put(part, value))


def blank(
    line: Written,
    place: int,
    piece: Piece,
    before: Sequence[Written],
    integral: Integral,
    named: Mapping[Symbol, Expression],
) -> Blank | str:
    """Whether a piece may be left blank.

    Args:
        line: the whole line.
        place: of the statement that the piece is taken from.
        piece: the piece.
        before: the lines before it.
        integral: what the working starts from.
        named: letters that stand for numbers.

    Returns:
        The blank, or why the piece stays.
    """
    known = meanings((*before, line), integral, named)
    letter = next(iter(piece.value.symbols()), None)
    reason = _unfit(line, place, letter, {integral.variable, *(one for one in known if one not in named)})
    if reason is not None:
        return reason
    shown = tuple(_beside(line, place, piece, before, integral))
    if letter is None and _is_copied(piece, shown):
        return "the number stands beside the gap, or in the line before"

    def with_value(value: Expression) -> Row:
        statements = list(line.statements)
        statements[place] = filled(piece.statement, value)
        return Row(kind=line.kind, statements=tuple(statements))

    right = follows(with_value(piece.value), before, integral, named)
    other = sum_of(piece.value, Integer(1) if letter is None else letter)
    wrong = follows(with_value(other), before, integral, named)
    if not isinstance(right, Proved) or not isinstance(wrong, Refuted):
        return "the lines up to this one do not determine what stands there"
    if _names_a_number(line, place) and not _is_found(line, place, before, integral, named):
        return "no equation before it says which number the letter is"
    if letter is not None and _is_shown(piece.value, letter, (*shown, *_earlier(before, integral))):
        return "an equivalent expression is shown already"
    on_left = line.statements[place]
    integrals = isinstance(on_left, Equation) and any(
        isinstance(one, Integral) for one in on_left.left.walk()
    )
    return Blank(
        place=place,
        piece=piece,
        proof=right.proof,
        witness=wrong.witness,
        letter=letter,
        meaning=None if letter is None else known.get(letter),
        up_to_constant=letter is not None and not piece.integrated and (line.kind == "step" or integrals),
    )


def is_given_away(found: Blank, after: Sequence[Written]) -> bool:
    """Whether the next line of the chain shows what fills a gap: it may be asked for, but there are better gaps.

    Args:
        found: the blank.
        after: the lines after its own.
    """
    following = next((one for one in after if one.kind == "step"), None)
    if following is None:
        return False
    shown = [side for statement in following.statements for side in sides(statement)]
    if found.letter is None:
        return _is_copied(found.piece, shown)
    return _is_shown(found.piece.value, found.letter, shown)


def _unfit(line: Written, place: int, letter: Symbol | None, functions: set[Symbol]) -> str | None:
    """Why a piece of such a kind is no gap there."""
    if defined_by(line.statements) is not None:
        return "an integral is called by a letter in this line"
    if line.kind == "let" and place == 0:
        match line.statements:
            case (Equation(Symbol() as new, _), Equation(Differential(same), rate)) if (
                same == new and letter is None and new not in rate.symbols()
            ):
                pass
            case _:
                return "a letter may be chosen freely, as far as its line says"
    if letter is not None and letter not in functions:
        return "a letter in it stands for no function"
    if letter is not None and getattr(line, "domain", None) is not None:
        return "the line holds on a part of the domain only"
    return None


def _names_a_number(line: Written, place: int) -> bool:
    match line.statements[place]:
        case Equation(Symbol(), right) if line.kind == "aside":
            return as_fraction(right) is not None
        case _:
            return False


def _is_found(
    line: Written,
    place: int,
    before: Sequence[Written],
    integral: Integral,
    named: Mapping[Symbol, Expression],
) -> bool:
    """Whether an equation that is shown before it fails for another number."""
    statement = line.statements[place]
    assert isinstance(statement, Equation)
    assert isinstance(statement.left, Symbol)
    other = {**named, statement.left: sum_of(statement.right, Integer(1))}
    first = Row(kind=line.kind, statements=line.statements[:place])
    return any(
        isinstance(follows(one, before[:at], integral, other), Refuted)
        for at, one in enumerate((*before, first))
        if one.kind == "aside" and one.statements
    )


def _beside(
    line: Written, place: int, piece: Piece, before: Sequence[Written], integral: Integral
) -> Iterator[Expression]:
    """What is shown in the line besides the gap, and in the line of the chain before it."""
    for at, statement in enumerate(line.statements):
        yield from sides(piece.statement if at == place else statement)
    if line.kind == "step":
        chain = [one.statements for one in before if one.kind == "step"]
        yield from (side for statement in ((integral,), *chain)[-1] for side in sides(statement))


def _earlier(before: Sequence[Written], integral: Integral) -> Iterator[Expression]:
    yield integral
    yield from (side for one in before for statement in one.statements for side in sides(statement))


def _is_copied(piece: Piece, shown: Sequence[Expression]) -> bool:
    number = as_fraction(piece.value)
    beside = (
        as_fraction(one) for tree in shown for one in numbers_in(tree, raised=piece.raised) if one != GAP
    )
    return any(number is not None and one is not None and abs(one) == abs(number) for one in beside)


def _is_shown(value: Expression, letter: Symbol, shown: Sequence[Expression]) -> bool:
    """Whether a part of what is shown could be copied into the gap."""
    parts = dict.fromkeys(part for tree in shown for node in tree.walk() for part in (node, *_rest(node)))
    return any(
        isinstance(decide_equal(part, value, letter), Proved)
        for part in parts
        if part.symbols() == {letter} and not part.holds(Integral, Differential)
    )


def _rest(tree: Expression) -> Iterator[Expression]:
    """A product without the number in front, or without its differential."""
    if isinstance(tree, Product) and len(tree.factors) > 1:
        yield product(*tree.factors[1:])
        yield product(*tree.factors[:-1])
