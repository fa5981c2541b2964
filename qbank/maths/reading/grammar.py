"""The grammar: tokens to a tree as written, by recursive descent with a counted depth.

    expression  signs product (+|- signs product)*
    product     factor ((*|/) signs factor | factor)*       a following factor without a sign is a product
    factor      atom (^ exponent | superscript | degree)*
    atom        number, letter, constant, (...), |...|, function, root, fraction

Products and quotients go from left to right and an implicit product binds like a written one, so `1/2x` is (1/2)x,
with a remark. A minus sign in front covers the whole product: `-2x` is the negative of 2x. In an exponent without
brackets, `e^2x` goes on over the letters that stand with it, up to the variable; for other bases it is one factor.
`x^1/2` is a square root, as nobody writes x^1; `x^3/2` is half a cube. Brackets never make a node; they only keep
a sum or product inside from joining the one outside.
"""

from __future__ import annotations

from typing import NoReturn

from qbank.maths.expression import (
    Constant,
    Decimal,
    Expression,
    Integer,
    Quotient,
    Sum,
    Symbol,
)
from qbank.maths.reading import limits
from qbank.maths.reading.brackets import Brackets
from qbank.maths.reading.exponents import Exponents
from qbank.maths.reading.functions import Functions
from qbank.maths.reading.roots import Roots
from qbank.maths.reading.rules import joined, letter, negated, whole_number
from qbank.maths.reading.tokens import Token
from qbank.messages import say

__all__ = ["Grammar"]

#: letters that are read as functions in f(x)
_FUNCTION_LETTERS = ("f", "g", "F", "G")
#: letters of numbered constants: C1 is C_1
_CONSTANT_LETTERS = ("C", "c", "k", "K", "A", "B")
_SIGNS = ("+", "-")
#: kinds of tokens that may belong to the letter before them: C_1, C1, f(x)
_AFTER_LETTERS = ("op", "number", "open")
#: kinds of tokens that may start a power or be a degree sign
_AFTER_ATOMS = ("op", "sup", "degree")


class Grammar(Functions, Roots, Exponents, Brackets):
    """One reading of one list of tokens; `whole` reads it all."""

    def whole(self) -> Expression:
        """The tree of all tokens."""
        if self.peek.kind == "end":
            self.fail("empty", say("there is nothing to read"), self.peek)
        tree = self.expression()
        if self.peek.kind != "end":
            self.unexpected(self.peek)
        return tree

    def expression(self) -> Expression:
        """A sum, up to what cannot go on."""
        minus = self.signs()
        terms = [negated(self.product(), minus)]
        while self.peek.kind == "op" and self.peek.text in _SIGNS:
            # the sign between the terms is the first of those before this one
            minus = self.signs()
            terms.append(negated(self.product(), minus))
        return terms[0] if len(terms) == 1 else Sum(tuple(terms))

    def signs(self) -> int:
        """Pass plus and minus signs; how many minus signs there were."""
        minus = passed = 0
        while self.peek.kind == "op" and self.peek.text in _SIGNS:
            passed += 1
            minus += self.take().text == "-"
            if passed > limits.NESTING:
                self.too_nested()
        return minus

    def product(self) -> Expression:
        """Factors and quotients from left to right."""
        first = self.index
        factors = [self.factor()]
        while True:
            kind = self.peek.kind
            if kind == "op":
                text = self.peek.text
                if text == "*":
                    self.take()
                    factors.append(self.signed_factor())
                elif text == "/":
                    self.take()
                    factors = [Quotient(joined(factors), self.denominator(first))]
                else:
                    return joined(factors)
            elif kind == "end" or not self.starts_factor():
                return joined(factors)
            else:
                self.implicit(factors)

    def signed_factor(self) -> Expression:
        """A factor with signs of its own, after `*` or `/`."""
        minus = self.signs()
        return negated(self.factor(), minus)

    def denominator(self, first: int) -> Expression:
        """What is under a slash: one factor, or in the other reading all that stands with it."""
        start = self.index
        tree = self.signed_factor()
        if not self.starts_factor() or (isinstance(tree, Integer) and not self.peek.glued):
            return tree
        if self.peek.kind in ("number", "fraction"):
            return tree
        over, under, end = (
            self.written(first, start - 1),
            self.written(start, self.index),
            self.reach(self.index),
        )
        beside, whole = self.written(self.index, end), self.written(first, end)
        sentence = say(
            "{whole} is read as ({over}/{under})*{beside}; the other reading is {over}/({under}*{beside}).",
            whole=whole,
            over=over,
            under=under,
            beside=beside,
        )
        if self.ask("denominator", first, sentence):
            return tree
        parts = [tree]
        while self.starts_factor():
            self.implicit(parts)
        return joined(parts)

    def implicit(self, factors: list[Expression]) -> None:
        """Read a factor that follows without a sign."""
        token, before = self.peek, self.tokens[self.index - 1]
        if token.kind in ("number", "fraction"):
            hint = say("for a product write * before {text}", text=token.text)
            if before.kind in ("symbol", "close"):
                hint = say("for a power write ^{text}, for a product *{text}", text=token.text)
            self.fail(
                "misplaced-number",
                say("the number {text} stands directly after something else", text=token.text),
                token,
                hint,
            )
        start = self.index
        factor = self.factor()
        whole = factors[-1]
        if (
            token.kind == "frac"
            and before.kind == "number"
            and isinstance(whole, Integer)
            and _is_fraction(factor)
        ):
            written = self.written(start - 1, self.index)
            sentence = say(
                "{written} is read as a mixed number, the sum of both; the other reading is a product.",
                written=written,
            )
            if self.ask("mixed", start - 1, sentence):
                factors[-1] = Sum((whole, factor))
                return
        factors.append(factor)

    def factor(self) -> Expression:
        """One factor with its powers."""
        self.enter()
        tree = self.atom()
        if self.peek.kind in _AFTER_ATOMS:
            tree = self.postfix(tree)
        self.leave()
        return tree

    def postfix(self, tree: Expression) -> Expression:
        """A tree with the powers and degree signs after it."""
        while True:
            kind = self.peek.kind
            if kind == "sup":
                if self.root_index_ahead() and not self.is_power_before_root():
                    return tree
                tree = self.power(tree, self.superscript(), self.index - 1)
            elif kind == "op" and self.peek.text == "^":
                at = self.index
                self.take()
                tree = (
                    self.degrees(tree) if self.degree_ahead() else self.power(tree, self.exponent(tree), at)
                )
            elif kind == "degree":
                self.take()
                tree = self.degrees(tree)
            else:
                return tree

    # atoms ----------------------------------------------------------------------------------------------------

    def atom(self) -> Expression:
        """One factor without powers after it."""
        token = self.take()
        match token.kind:
            case "number":
                return self.number(token)
            case "symbol":
                return self.symbol(token)
            case "function" | "log":
                return self.application(token)
            case "open":
                return self.bracketed(token)
            case "constant":
                return Constant(token.text)
            case "root":
                return self.root(token)
            case "frac":
                return Quotient(self.group(token), self.group(token))
            case "fraction":
                return _fraction(token.text)
            case "bar" if token.text != "|)":
                return self.modulus(token)
            case "sup":
                return self.leading_superscript(token)
        return self.missing(token)

    def number(self, token: Token) -> Expression:
        """A number, or a mixed number such as 1½."""
        tree: Expression = Decimal(token.text) if "." in token.text else whole_number(token.text)
        if self.peek.kind == "fraction" and self.peek.glued and isinstance(tree, Integer):
            fraction = _fraction(self.take().text)
            self.remark(
                "mixed-number",
                say("The whole number and the fraction are read as their sum."),
                self.index - 2,
            )
            return Sum((tree, fraction))
        return tree

    def symbol(self, token: Token) -> Expression:
        """A letter or name, with a subscript."""
        name, first = token.text, self.index - 1
        if self.peek.kind not in _AFTER_LETTERS:
            return letter(name)
        if self.is_op("_"):
            self.take()
            return Symbol(f"{name}_{self.subscript()}")
        if self.is_numbered_constant(name):
            digits = self.take().text
            self.remark(
                "named-constant",
                say("{name}{digits} is read as the constant {name}_{digits}.", name=name, digits=digits),
                first,
            )
            return Symbol(f"{name}_{digits}")
        if self.is_function_value(name):
            written = self.written(first, self.index + 3)
            message = say("{written} is a function without a rule", written=written)
            self.fail_at(
                "unknown-function", message, token.start, self.after(2).end, say("write its expression")
            )
        return letter(name)

    def is_numbered_constant(self, name: str) -> bool:
        """Whether a letter and the digits right after it are a constant: C1."""
        if self.peek.kind != "number" or not self.peek.glued or name in self.names.allowed:
            return False
        return self.peek.text.isdigit() and name in (*_CONSTANT_LETTERS, self.names.conventions.constant)

    def is_function_value(self, name: str) -> bool:
        """Whether a letter and the bracket after it are a function's value: f(x)."""
        if name not in _FUNCTION_LETTERS or name in self.names.allowed or self.peek.text != "(":
            return False
        return self.after().text in self.names.variables and self.after(2).text == ")"

    def subscript(self) -> str:
        """The text of a subscript; the sign before it is passed."""
        opener = self.take() if self.peek.kind == "open" else None
        token = self.take()
        if token.kind not in ("number", "symbol", "constant") or "_" in token.text:
            self.fail("bad-subscript", say("a subscript is a number or a letter"), token)
        if opener is None:
            return token.text
        text = token.text
        if token.kind == "symbol" and self.is_op("-") and self.after().text.isdigit():
            self.take()
            text = f"({text}-{self.take().text})"
        if self.peek.kind not in ("close", "end"):
            self.fail("bad-subscript", say("a subscript is a number or a letter"), self.peek)
        self.close(opener)
        return text

    # errors ---------------------------------------------------------------------------------------------------

    def missing(self, token: Token) -> NoReturn:
        """Fail where an operand should start."""
        opens = token.kind == "close" and self.index == 1
        if opens or token.kind in ("integral", "differential") or token.text in (",", ";", "="):
            self.unexpected(token)
        if token.kind in ("end", "close"):
            last = self.tokens[self.index - (1 if token.kind == "end" else 2)]
            if last.kind == "bar":
                self.unexpected(last)
            self.fail("missing-operand", say("something is missing after {text}", text=last.text), last)
        self.fail("missing-operand", say("something is missing before {text}", text=token.text), token)

    def unexpected(self, token: Token) -> NoReturn:
        """Fail at a token that cannot go on from what was read."""
        match token.kind, token.text:
            case "op", "=":
                self.fail(
                    "equals-sign", say("an expression has no equals sign"), token, say("write one side only")
                )
            case "op", ("," | ";"):
                numbers = self.tokens[self.index - 1].kind == self.after().kind == "number"
                hint = (
                    say('the decimal sign here is "{sign}"', sign=self.names.conventions.decimal)
                    if numbers
                    else ""
                )
                self.fail("comma", say("a {text} cannot stand here", text=token.text), token, hint)
            case "op", "_":
                self.fail("bad-subscript", say("only a letter can have a subscript"), token)
            case "integral", _:
                self.fail(
                    "integral-sign",
                    say("an integral sign cannot stand in an expression"),
                    token,
                    say("write what it gives"),
                )
            case "differential", _:
                self.fail(
                    "differential",
                    say("d{text} cannot stand in an expression", text=token.text),
                    token,
                    say("leave out d{text}", text=token.text),
                )
            case "bar", _:
                self.fail(
                    "unclosed-bar", say("this modulus bar has no partner"), token, say("write abs(...)")
                )
        self.fail("unopened-bracket", say("the bracket {text} was not opened here", text=token.text), token)


def _fraction(text: str) -> Expression:
    over, under = text.split("/")
    return Quotient(Integer(int(over)), Integer(int(under)))


def _is_fraction(tree: Expression) -> bool:
    """Whether a tree is a fraction of two whole numbers."""
    return (
        isinstance(tree, Quotient)
        and isinstance(tree.numerator, Integer)
        and isinstance(tree.denominator, Integer)
    )
