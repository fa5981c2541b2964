"""Powers: what belongs to an exponent that has no brackets, superscripts, and degree signs.

An exponent is one factor: `x^2y` is x^2 times y. For the base e it goes on over the letters that stand with it, up to
the variable: `e^2x` is e^(2x). `x^1/2` is a square root, as nobody writes x^1; `x^3/2` is half a cube. Each has a
remark that names the other reading.
"""

from __future__ import annotations

from math import gcd

from qbank.maths.expression import (
    PI,
    Decimal,
    E,
    Expression,
    Integer,
    Negate,
    Product,
    Quotient,
    Symbol,
    as_fraction,
)
from qbank.maths.reading import limits
from qbank.maths.reading.rules import Rules, negated
from qbank.messages import say

__all__ = ["Exponents"]


class Exponents(Rules):
    """The rules for powers."""

    def power(self, base: Expression, exponent: Expression, at: int) -> Expression:
        """A power, refused when its exponent is a number that is too large."""
        if isinstance(exponent, Integer):
            too_large = exponent.value > limits.EXPONENT
        else:
            value = as_fraction(exponent) if isinstance(exponent, Decimal | Negate) else None
            too_large = value is not None and abs(value) > limits.EXPONENT
        if too_large:
            message = say("the exponent is larger than {limit}", limit=str(limits.EXPONENT))
            self.fail_at(
                "exponent-too-large", message, self.tokens[at].start, self.tokens[self.index - 1].end
            )
        return self.powered(base, exponent)

    def superscript(self) -> Expression:
        """What a superscript holds; the next token opens it."""
        self.take()
        saved, self.bar_open = self.bar_open, False
        tree = self.expression()
        if self.peek.kind != "sup-end":
            self.unexpected(self.peek)
        self.take()
        self.bar_open = saved
        return tree

    def is_power_before_root(self) -> bool:
        """Whether the raised number in `x³√x` is a power of what is before it; after a space it is the index."""
        if not self.peek.glued:
            return False
        sentence = say(
            "The raised number is read as a power of what stands before it; the other reading is the index of the root."
        )
        return self.ask("root-index", self.index - 1, sentence)

    def exponent(self, base: Expression) -> Expression:
        """An exponent after `^`."""
        start = self.index
        minus = self.signs()
        plain = self.peek.kind in ("number", "symbol", "constant")
        tree = self.factor()
        if plain:
            tree = self.exponent_product(base, tree, start)
            tree = self.exponent_quotient(base, tree, start)
        return negated(tree, minus)

    def exponent_product(self, base: Expression, tree: Expression, start: int) -> Expression:
        """An exponent without brackets with the letters that stand with it, when they belong to it."""
        token, number = self.peek, isinstance(tree, (Integer, Decimal))
        letter = token.kind in ("symbol", "constant")
        if base == E:
            inside = letter and token.glued and not self.has_variable(tree)
            asks = (letter and (token.glued or number)) or (number and token.glued and self.starts_factor())
        else:
            inside = False
            fixed = isinstance(base, (Integer, Decimal)) or (
                isinstance(base, Symbol) and not self.has_variable(base)
            )
            asks = letter and token.glued and number and fixed and token.text in self.names.variables
        if not asks:
            return tree
        power, beside = self.written(start, self.index), self.written(self.index, self.reach(self.index))
        usual, other = (f"{power}*{beside}", power) if inside else (power, f"{power}*{beside}")
        sentence = say(
            "The exponent is read as {usual}; the other reading has the exponent {other}.",
            usual=usual,
            other=other,
        )
        if self.ask("exponent", start, sentence) != inside:
            return tree
        parts = [tree, self.factor()]
        while self.peek.kind == "symbol" and self.peek.glued and not self.has_variable(parts[-1]):
            parts.append(self.factor())
        return Product(tuple(parts))

    def exponent_quotient(self, base: Expression, tree: Expression, start: int) -> Expression:
        """An exponent with a number under a slash right after it, when that belongs to it."""
        under = self.after()
        glued = (
            self.is_op("/")
            and self.peek.glued
            and under.glued
            and under.kind == "number"
            and under.text.isdigit()
        )
        if not glued:
            return tree
        if base != E:
            value, divisor = (tree.value, int(under.text)) if isinstance(tree, Integer) else (0, 1)
            if divisor < 2 or gcd(value, divisor) != 1:
                return tree
        inside = tree == Integer(1)
        power, whole = self.written(start, self.index), self.written(start, self.index + 2)
        usual, other = (whole, power) if inside else (power, whole)
        sentence = say(
            "The exponent is read as {usual}; the other reading has the exponent {other}.",
            usual=usual,
            other=other,
        )
        if self.ask("exponent-quotient", start, sentence) != inside:
            return tree
        self.take()
        return Quotient(tree, self.atom())

    def degree_ahead(self) -> bool:
        r"""Whether a raised degree sign follows, as in `30^\circ`; its braces and all but the sign are passed."""
        if self.peek.text == "{" and self.after().kind == "degree" and self.after(2).text == "}":
            self.take()
            self.take()
            self.take()
            return True
        if self.peek.kind == "degree":
            self.take()
            return True
        return False

    def degrees(self, tree: Expression) -> Expression:
        """A value in degrees; the sign is already passed."""
        self.remark("degrees", say("The degree sign is read as a factor pi/180."), self.index - 1)
        return Product((tree, Quotient(PI, Integer(180))))
