"""The rules of the grammar by name, so that the modules that hold them can use each other."""

from __future__ import annotations

from abc import ABC, abstractmethod
from functools import lru_cache
from typing import NoReturn

from qbank.maths.expression import Expression, Integer, Negate, Product, Symbol
from qbank.maths.reading.cursor import Cursor
from qbank.maths.reading.tokens import Token

__all__ = ["Rules", "joined", "letter", "negated", "whole_number"]


def joined(factors: list[Expression]) -> Expression:
    """One factor itself, or the product of several as written."""
    return factors[0] if len(factors) == 1 else Product(tuple(factors))


def negated(tree: Expression, times: int) -> Expression:
    """The tree behind a number of minus signs."""
    for _ in range(times):
        tree = Negate(tree)
    return tree


@lru_cache(maxsize=1024)
def whole_number(digits: str) -> Integer:
    """The number of some digits, the same node for the same digits."""
    return Integer(int(digits))


@lru_cache(maxsize=1024)
def letter(name: str) -> Symbol:
    """The symbol of a name, the same node for the same name."""
    return Symbol(name)


class Rules(Cursor, ABC):
    """What each group of rules needs of the others."""

    @abstractmethod
    def expression(self) -> Expression:
        """A sum, up to what cannot go on."""

    @abstractmethod
    def product(self) -> Expression:
        """Factors and quotients from left to right."""

    @abstractmethod
    def factor(self) -> Expression:
        """One factor with its powers."""

    @abstractmethod
    def atom(self) -> Expression:
        """One factor without powers after it."""

    @abstractmethod
    def bracket(self) -> Expression:
        """What stands in the brackets that open at the next token."""

    @abstractmethod
    def postfix(self, tree: Expression) -> Expression:
        """A tree with the powers and degree signs after it."""

    @abstractmethod
    def implicit(self, factors: list[Expression]) -> None:
        """Read a factor that follows without a sign."""

    @abstractmethod
    def signs(self) -> int:
        """Pass plus and minus signs; how many minus signs there were."""

    @abstractmethod
    def superscript(self) -> Expression:
        """What a superscript holds; the next token opens it."""

    @abstractmethod
    def unexpected(self, token: Token) -> NoReturn:
        """Fail at a token that cannot go on from what was read."""

    @abstractmethod
    def bracketed(self, opener: Token) -> Expression:
        """What is in brackets; the opening one is passed."""

    @abstractmethod
    def modulus(self, opener: Token) -> Expression:
        """What is between modulus bars; the opening one is passed."""

    @abstractmethod
    def listed(self) -> Expression:
        """The first argument in brackets, up to what separates it from the next."""

    @abstractmethod
    def close(self, opener: Token) -> None:
        """Pass the bracket that closes `opener`."""

    def power_ahead(self) -> bool:
        """Whether a power follows."""
        return self.peek.kind == "sup" or self.is_op("^")

    def is_double_star(self) -> bool:
        """Whether the power that follows is written `**`, as in programs, where a power is never inside."""
        return self.is_op("^") and self.peek.end - self.peek.start == 2

    def letter_follows(self) -> bool:
        """Whether a letter stands right after what was read, without a space."""
        return self.peek.glued and self.peek.kind in ("symbol", "constant")
