"""Integrals with an index: `I_n` stands for int sin^n x dx, and so `I_4` and `I_(n-2)` are known too.

The index is a letter for a whole number. For the proof of a line it is any real number, so that a formula with n in it
is proved where the powers with a letter are real (`sin^n x` where sin x > 0); lines with numbers are proved everywhere.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Expression, Integer, Integral, Symbol, difference

__all__ = ["IndexedIntegral", "defined_by", "spare_names"]


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
    letter = next((one for one in ("I", "J", "K") if one not in used), "L")
    return letter, Symbol(next((one for one in ("n", "m", "k", "p") if one not in used), "q"))


def defined_by(statements: tuple[Statement, ...]) -> IndexedIntegral | None:
    """What a line `I_n = int ... dx` defines; None for any other line."""
    match statements:
        case (Equation(Symbol(name), Integral() as integral),) if "_" in name:
            letter, _, index = name.partition("_")
            return IndexedIntegral(letter, Symbol(index), integral)
        case _:
            return None
