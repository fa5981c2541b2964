"""Roots: signs and words, their index, and how far the root goes without a bracket.

`√2x` has only the 2 under the root, `√1-x²` only the 1, and `√x²` the square under it, each with a remark; `√(x)²` is a power of the root.
The index may be raised before the sign (`³√x`), in square brackets after it, or the second argument of `root(x, 3)`.
"""

from __future__ import annotations

from qbank.maths.expression import Expression, Root, Sum
from qbank.maths.reading import limits
from qbank.maths.reading.rules import Rules, joined, negated
from qbank.maths.reading.tokens import Token
from qbank.messages import say

__all__ = ["Roots"]


class Roots(Rules):
    """The rules for roots."""

    def root(self, token: Token) -> Expression:
        """A root sign or word, already passed, with its index and what is under it."""
        if token.text == "n":
            return self.root_call(token)
        index = int(token.text)
        if (
            self.peek.text == "["
            and self.after().kind == "symbol"
            and self.after(2).text == "]"
            and self.after(3).text == "{"
        ):
            self.root_index(self.after())
        if (
            self.peek.text == "["
            and self.after().kind == "number"
            and self.after(2).text == "]"
            and self.operand_at(3)
        ):
            self.take()
            index = self.root_index(self.take())
            self.take()
        return self.radicand(token, index)

    def operand_at(self, steps: int) -> bool:
        """Whether an operand stands some steps after the next token."""
        return self.after(steps).kind in (
            "open",
            "symbol",
            "constant",
            "number",
            "function",
            "frac",
            "bar",
            "root",
        )

    def root_index(self, token: Token) -> int:
        """The index in a token."""
        digits = token.text
        if token.kind != "number" or not digits.isdigit() or not 2 <= int(digits) <= limits.EXPONENT:
            self.fail(
                "bad-root-index",
                say("a root index is a whole number from 2 to {limit}", limit=str(limits.EXPONENT)),
                token,
            )
        return int(digits)

    def radicand(self, token: Token, index: int) -> Expression:
        """What is under a root sign: a bracket, or one factor."""
        if self.peek.kind == "open":
            return Root(self.bracket(), index)
        self.enter()
        first = self.index
        minus = self.signs()
        if self.peek.kind not in ("sup", "bar") and not self.starts_factor():
            self.fail(
                "missing-argument", say("there is nothing under this root"), token, say("write sqrt(x)")
            )
        applied = self.peek.kind in ("function", "log", "root")
        tree = self.atom()
        if self.power_ahead() and not applied:
            sentence = say(
                "The power after {text} is read as under the root; the other reading is a power of the root.",
                text=self.written(first, self.index),
            )
            if self.ask("root-power", first - 1, sentence):
                tree = self.postfix(tree)
        tree = negated(tree, minus) if applied else self.extent(tree, minus, first)
        self.leave()
        return Root(tree, index)

    def extent(self, tree: Expression, minus: int, first: int) -> Expression:
        """The first factor under a root without brackets, or in other readings the product or the sum that goes on."""
        under = self.written(first, self.index)
        whole_sum = self.sum_follows(self.past_letters()) and not self.ask(
            "root-sum",
            first - 1,
            say("Only {text} is under the root; the other reading has the whole sum under it.", text=under),
        )
        if self.letter_follows():
            sentence = say(
                "Only {under} is under the root; the other reading has {whole} under it.",
                under=under,
                whole=self.written(first, self.index + 1),
            )
            if whole_sum or not self.ask("root-product", first - 1, sentence):
                parts = [tree]
                while self.letter_follows():
                    parts.append(self.factor())
                tree = joined(parts)
        tree = negated(tree, minus)
        terms = [tree]
        while whole_sum and self.sum_follows(self.index):
            sign = self.take().text == "-"
            inner = self.signs()
            terms.append(negated(self.product(), inner + sign))
        return Sum(tuple(terms)) if whole_sum else tree

    def past_letters(self) -> int:
        """The index after the letters that follow."""
        place = self.index
        while self.tokens[place].kind == "symbol":
            place += 1
        return place

    def sum_follows(self, place: int) -> bool:
        """Whether a sum goes on there without a space, √1-x², and not with a constant of integration."""
        sign = self.tokens[place]
        if not (sign.kind == "op" and sign.text in "+-" and sign.glued):
            return False
        follower = self.tokens[place + 1]
        return follower.glued and (follower.kind != "symbol" or follower.text in self.names.variables)

    def root_call(self, token: Token) -> Expression:
        """The root written as a function of two arguments, `root(x, 3)`; a semicolon also separates them."""
        if self.peek.text != "(":
            self.fail(
                "missing-argument", say("root needs two arguments"), token, say("write root(x, 3) or sqrt(x)")
            )
        opener = self.peek
        tree = self.listed()
        if not (self.is_op(",") or self.is_op(";")):
            self.fail(
                "missing-argument", say("root needs two arguments"), token, say("write root(x, 3) or sqrt(x)")
            )
        self.take()
        index = self.root_index(self.take())
        self.close(opener)
        return Root(tree, index)

    def raised_root(self, token: Token) -> Expression:
        """A root with its index before it: ³√x; the superscript was just opened."""
        index = self.root_index(self.take())
        self.take()
        self.take()
        return self.radicand(token, index)

    def leading_superscript(self, token: Token) -> Expression:
        """A raised number with nothing before it: the index of a root."""
        self.index -= 1
        self.peek = self.tokens[self.index]
        if not self.root_index_ahead():
            self.fail("missing-operand", say("there is nothing before this power"), self.after())
        self.take()
        return self.raised_root(token)
