"""Brackets, modulus bars and the parts of a LaTeX fraction: what is between them, and that they match.

Round, square and curly brackets mean the same but must close as they opened. A bar opens a modulus where an operand is
expected and closes the open one after an operand; `Cursor.bar_nests` has the exception.
"""

from __future__ import annotations

from qbank.maths.expression import Apply, Expression
from qbank.maths.reading.rules import Rules
from qbank.maths.reading.tokens import Token
from qbank.messages import say

__all__ = ["Brackets"]

_CLOSERS = {"(": ")", "[": "]", "{": "}"}


class Brackets(Rules):
    """The rules for brackets and bars."""

    def bracket(self) -> Expression:
        """What stands in the brackets that open at the next token."""
        return self.bracketed(self.take())

    def bracketed(self, opener: Token) -> Expression:
        """What is in brackets; the opening one is passed."""
        saved, self.bar_open = self.bar_open, False
        if self.peek.kind == "close":
            self.fail_at(
                "missing-operand", say("there is nothing in these brackets"), opener.start, self.peek.end
            )
        tree = self.expression()
        self.close(opener)
        self.bar_open = saved
        return tree

    def listed(self) -> Expression:
        """The first argument in brackets, up to what separates it from the next."""
        self.take()
        saved, self.bar_open = self.bar_open, False
        tree = self.expression()
        self.bar_open = saved
        return tree

    def close(self, opener: Token) -> None:
        """Pass the bracket that closes `opener`."""
        token = self.peek
        if token.kind in ("end", "sup-end"):
            closer = _CLOSERS[opener.text]
            self.fail(
                "unclosed-bracket",
                say("the bracket {opened} is never closed", opened=opener.text),
                opener,
                say("add {closer}", closer=closer),
            )
        if token.kind != "close":
            self.unexpected(token)
        if token.text != _CLOSERS[opener.text]:
            message = say("the bracket {opened} is closed by {text}", opened=opener.text, text=token.text)
            self.fail(
                "wrong-bracket", message, token, say("close it with {closer}", closer=_CLOSERS[opener.text])
            )
        self.take()

    def modulus(self, opener: Token) -> Expression:
        """What is between modulus bars; the opening one is passed."""
        saved, self.bar_open = self.bar_open, opener.text == "|"
        tree = self.expression()
        closer = "|" if opener.text == "|" else "|)"
        if self.peek.kind != "bar" or self.peek.text != closer:
            if self.peek.kind == "end":
                self.fail(
                    "unclosed-bar",
                    say("this modulus bar is never closed"),
                    opener,
                    say("add | or write abs(...)"),
                )
            self.unexpected(self.peek)
        self.take()
        self.bar_open = saved
        return Apply("abs", tree)

    def group(self, token: Token) -> Expression:
        r"""One part of a LaTeX fraction: braces, or a single digit, letter or command (`\frac12`)."""
        following = self.peek
        if following.kind == "open":
            return self.bracket()
        if following.kind == "number" and len(following.text) > 1 and following.text.isdigit():
            self.split_number()
        if following.kind not in ("number", "symbol", "constant", "fraction", "root", "frac"):
            self.fail(
                "missing-operand",
                say("this fraction needs two parts in braces"),
                token,
                say(r"write \frac{{1}}{{2}}"),
            )
        self.enter()
        tree = self.atom()
        self.leave()
        return tree
