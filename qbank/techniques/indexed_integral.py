"""Integrals with an index: `I_n` stands for int sin^n x dx, and so `I_4` and `I_(n-2)` are known too.

The index is a letter for a whole number. For the proof of a line it is any real number, so that a formula with n in it
is proved where the powers with a letter are real (`sin^n x` where sin x > 0); lines with numbers are proved everywhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Expression, Integer, Integral, Symbol, difference

__all__ = ["LETTERS", "IndexedIntegral", "all_defined", "defined_by", "is_open", "spare_names"]


#: for integrals, in the order in which they are taken
LETTERS = ("I", "J", "K", "L")


class HasStatements(Protocol):
    """A line of a working, wherever it comes from."""

    @property
    def statements(self) -> tuple[Statement, ...]:
        """Its mathematics."""
        ...


@dataclass(frozen=True, slots=True)
class IndexedIntegral:
    """A letter with an index, and the integral that it stands for.

    Attributes:
        letter: `I`.
        index: `n`, which occurs in the integral.
        integral: what `I_n` stands for.
    """

    letter: str
    index: Symbol
    integral: Integral

    @property
    def symbol(self) -> Symbol:
        """`I_n`."""
        return Symbol(f"{self.letter}_{self.index.name}")

    def lower(self, by: int) -> Symbol:
        """`I_(n-2)`."""
        return Symbol(f"{self.letter}_({self.index.name}-{by})")

    def at(self, number: int) -> Symbol:
        """`I_4`."""
        return Symbol(f"{self.letter}_{number}")

    def with_letter(self, letter: str, trees: Iterable[Expression]) -> dict[Symbol, Symbol]:
        """What becomes of the symbols in some trees when another letter is taken."""
        symbols = {symbol for tree in trees for symbol in tree.symbols() if self._place(symbol) is not None}
        return {symbol: Symbol(letter + symbol.name.removeprefix(self.letter)) for symbol in symbols}

    def put_in(self, tree: Expression) -> Expression:
        """A line with its integrals written out.

        >>> n, x = Symbol("n"), Symbol("x")
        >>> called = IndexedIntegral("I", n, Integral(x**n, x))
        >>> called.put_in(3 * called.at(2)) == 3 * Integral(x**2, x)
        True
        """
        found = ((symbol, self._place(symbol)) for symbol in tree.symbols())
        meanings = {
            symbol: self.integral.substitute({self.index: place})
            for symbol, place in found
            if place is not None
        }
        return tree.substitute(meanings) if meanings else tree

    def _place(self, symbol: Symbol) -> Expression | None:
        """The index of a symbol, or None when it is another letter."""
        n = self.index.name
        seen = re.fullmatch(
            rf"{re.escape(self.letter)}_(?:([0-9]+)|{re.escape(n)}|\({re.escape(n)}-([0-9]+)\))", symbol.name
        )
        if seen is None:
            return None
        number, by = seen.groups()
        if number is not None:
            return Integer(int(number))
        return self.index if by is None else difference(self.index, Integer(int(by)))


def spare_names(taken: Expression) -> tuple[str, Symbol]:
    """A letter for the integral and one for the index: I and n, or the next that do not occur.

    >>> spare_names(Symbol("n") * Symbol("x"))
    ('I', Symbol(name='m'))
    """
    used = {symbol.name.partition("_")[0] for symbol in taken.symbols()}
    letter = next((one for one in LETTERS if one not in used), LETTERS[-1])
    return letter, Symbol(next((one for one in ("n", "m", "k", "p") if one not in used), "q"))


def is_open(tree: Expression, called: Iterable[IndexedIntegral] = ()) -> bool:
    """Whether an integral is still to be done in a line, under its sign or called by its letter."""
    if tree.holds(Integral):
        return True
    return any(one.put_in(tree) is not tree for one in called)


def all_defined(lines: Iterable[HasStatements]) -> tuple[IndexedIntegral, ...]:
    """What the lines of a working call by a letter."""
    found = (defined_by(line.statements) for line in lines)
    return tuple(one for one in found if one is not None)


def defined_by(statements: tuple[Statement, ...]) -> IndexedIntegral | None:
    """What a line `I_n = int ... dx` defines, or says of an `I_n` that is defined; None for any other line."""
    match statements:
        case (Equation(Symbol(name), Integral() as integral),):
            letter, _, index = name.partition("_")
            known = Symbol(index) in integral.symbols() and index != integral.variable.name
            return IndexedIntegral(letter, Symbol(index), integral) if known else None
        case _:
            return None
